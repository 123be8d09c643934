import { type Commands, word } from '../command.ts';
import {
  BOTTLE_USAGE,
  DISCARD_USAGE,
  DROP_USAGE,
  discardBottle,
  dropBottle,
  FILL_USAGE,
  fillBottle,
  newBottle,
} from '../samples/fill-bottle.ts';
import { showBottles, showShortWater } from '../samples/show-bottles.ts';

export const FILLING_COMMANDS: Commands = {
  bottles: {
    usage: 'bottles WELL',
    does: 'the containers there in the order to fill: what is full, which is next, how long each takes',
    run: (crew, given) => showBottles(crew, word(given, 0, 'bottles WELL')),
  },
  bottle: {
    usage: BOTTLE_USAGE,
    does: 'one more container, as another one is',
    run: (crew, { words }) => newBottle(crew, words),
  },
  fill: {
    usage: FILL_USAGE,
    does: 'a container is full; what speaks against it is asked at once; --anyway: though it is labelled for another well',
    takesTime: true,
    run: (crew, { words, said }) => fillBottle(crew, words, said('anyway')),
  },
  discard: {
    usage: DISCARD_USAGE,
    does: 'a container that was filled is thrown away',
    run: (crew, given) => discardBottle(crew, word(given, 0, DISCARD_USAGE), given.option('reason')),
  },
  short: {
    usage: 'short WELL ML',
    does: 'with so much water left: which containers are filled, which are dropped, who has to agree',
    run: (crew, given) => showShortWater(crew, word(given, 0, 'short WELL ML'), word(given, 1, 'short WELL ML')),
  },
  drop: {
    usage: DROP_USAGE,
    does: 'a container is left out, as somebody agreed',
    run: (crew, given) => dropBottle(crew, given.words, given.option('reason')),
  },
};
