import { type Commands, word } from '../command.ts';
import { showKit, showOwed } from '../equipment/day-here.ts';
import { SET_UP_USAGE, setUp, USE_USAGE, use } from '../equipment/go-down.ts';
import { changePart, PART_USAGE } from '../equipment/parts.ts';
import { showUnit, showUnits } from '../equipment/show-units.ts';
import { giveBack, handOver, take } from '../equipment/sign-outs.ts';

export const EQUIPMENT_COMMANDS: Commands = {
  units: {
    usage: 'units [--all]',
    does: 'the equipment that you signed out, and in which state it is; --all: every unit of the firm',
    run: (crew, given) => showUnits(crew, given.said('all')),
  },
  unit: {
    usage: 'unit UNIT [into=WELL] [suites=VOC,metals] [--all]',
    does: 'where it stands and why, what it needs next, whether it may go into a well, what happened to it',
    run: (crew, given) => showUnit(crew, given.words, given.said('all')),
  },
  take: {
    usage: 'take UNIT',
    does: 'you have it from now on',
    takesTime: true,
    run: (crew, { words }) => take(crew, words),
  },
  return: {
    usage: 'return UNIT',
    does: 'it is back',
    takesTime: true,
    run: (crew, { words }) => giveBack(crew, words),
  },
  hand: {
    usage: 'hand UNIT to CREW',
    does: 'another crew has it from now on',
    takesTime: true,
    run: (crew, { words }) => handOver(crew, words),
  },
  'set-up': {
    usage: SET_UP_USAGE,
    does: 'the pump goes into the well; what speaks against it is asked at once',
    takesTime: true,
    run: (crew, given) => {
      word(given, 1, SET_UP_USAGE);
      return setUp(crew, given.words, given.said('again'));
    },
  },
  use: {
    usage: USE_USAGE,
    does: 'any other unit is at the well; --out: it was taken out again',
    takesTime: true,
    run: (crew, given) => {
      word(given, 1, USE_USAGE);
      return use(crew, given.words, { out: given.said('out'), again: given.said('again') });
    },
  },
  kit: {
    usage: 'kit',
    does: 'what to take along today, and what the check of the kit found',
    run: (crew) => showKit(crew),
  },
  owed: {
    usage: 'owed',
    does: 'what your equipment still owes tonight: cleaning, closing checks, rinsates',
    run: (crew) => showOwed(crew),
  },
  part: {
    usage: PART_USAGE,
    does: 'a bladder, tubing, O-rings: put in, taken out, thrown away, kept for its well',
    takesTime: true,
    run: (crew, { words }) => changePart(crew, words),
  },
};
