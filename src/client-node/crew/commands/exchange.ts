import { readFile } from 'node:fs/promises';
import type { OpenConflict } from '../../../client/conflicts.ts';
import { type Commands, type Given, word } from '../command.ts';
import { chosenValue, neitherValue } from '../conflict-value.ts';
import { refOf } from '../correct.ts';
import { CrewError } from '../crew-error.ts';
import { sync } from '../do-sync.ts';
import { kept } from '../kept.ts';
import type { Crew } from '../open-crew.ts';
import { writeCopy } from '../write-copy.ts';

/** What a crew decides is set aside at the server until a coordinator looks at it: said before it is kept. */
function mustMayDecide(mayDecide: boolean | null, anyway: boolean): void {
  if (mayDecide !== false || anyway) return;
  throw new CrewError(
    'the token of this device is of a crew, and the server takes decisions from coordinators: it would set yours ' +
      'aside until one of them releases it. Tell them what you know, or add --anyway to send it as a proposal',
  );
}

/** By the end of its id, which stays the same while others are decided; where only one is open, 1 is it. */
function theConflict(open: readonly OpenConflict[], given: string): OpenConflict {
  const wanted = given.replace(/^#/, '').toLowerCase();
  const found = open.filter(({ id }) => id === wanted || refOf({ id }) === wanted);
  const [only, ...more] = found.length > 0 || wanted !== '1' || open.length > 1 ? found : open;
  if (only && more.length === 0) return only;
  throw new CrewError(
    `there is no one conflict "${given}": give the sign behind #, as crew conflicts shows it (a number of its own would ` +
      'mean another one after the next sync)',
  );
}

const RESOLVE = 'resolve CONFLICT VALUE [--reason TEXT] [--anyway]';

async function resolve(crew: Crew, given: Given): Promise<void> {
  const conflict = theConflict(await crew.client.conflicts(), word(given, 0, RESOLVE));
  const { id, record, sentence, choices, mayDecide } = conflict;
  if (record === null) throw new CrewError(`it cannot be decided yet: ${sentence}`);
  const [neither, reason] = [given.option('neither'), given.option('reason')];
  if (neither !== undefined && (choices.length === 0 || given.words.length > 1))
    throw new CrewError('--neither VALUE stands in place of one of the values given: crew conflicts lists them');
  const value = () => {
    if (choices.length === 0) return undefined;
    return neither === undefined
      ? chosenValue(conflict, given.words.slice(1).join(' ') || word(given, 1, RESOLVE))
      : neitherValue(conflict, neither, reason);
  };
  const chosen = value();
  mustMayDecide(mayDecide, given.said('anyway'));
  await kept(crew, crew.client.resolve(id, chosen, reason, neither === undefined ? undefined : true));
}

async function copyOut(crew: Crew, file: string): Promise<void> {
  const bytes = await crew.client.exportOutbox();
  const { client } = await crew.client.identity();
  const own = new Set([client, ...(await crew.client.context.store.outbox()).map((entry) => entry.client)]);
  await writeCopy(file, bytes, own);
  crew.say(`${file} has what this device keeps: give it to a partner, who takes it with crew carry FILE`);
}

async function carry(crew: Crew, file: string): Promise<void> {
  const bytes = await readFile(file).catch((error: Error) => {
    throw new CrewError(`${file} cannot be read: ${error.message}`);
  });
  const { taken, known } = await crew.client.importOutbox(bytes);
  crew.say(`carried from now on: ${taken}; known before: ${known}. The next sync hands them in`);
}

export const EXCHANGE_COMMANDS: Commands = {
  sync: { usage: 'sync', does: 'send what is unsent, get what is new', run: (crew) => sync(crew) },
  resolve: {
    usage: RESOLVE,
    does:
      'say which value stands, by its number or as it is listed; or, where none of them does, --neither VALUE --reason ' +
      'TEXT. The server takes it from a coordinator, --anyway proposes it to one',
    run: resolve,
  },
  copy: {
    usage: 'copy FILE',
    does: "a copy of the outbox for a partner's device",
    run: (crew, given) => copyOut(crew, word(given, 0, 'copy FILE')),
  },
  carry: {
    usage: 'carry FILE',
    does: "take a partner's copy along and hand it in",
    run: (crew, given) => carry(crew, word(given, 0, 'carry FILE')),
  },
  reset: {
    usage: 'reset',
    does: 'forget what was pulled; what was recorded here stays',
    run: async (crew) => {
      await crew.client.resetFeeds();
      crew.say('forgotten; the next sync gets it again');
    },
  },
};
