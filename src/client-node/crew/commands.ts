import { readFile, writeFile } from 'node:fs/promises';
import type { Captured } from '../../client/capture.ts';
import { correct, voidOne } from './correct.ts';
import { CrewError } from './crew-error.ts';
import { sync } from './do-sync.ts';
import { enterCall, enterLevel, enterReading, leave } from './enter.ts';
import { eventNamed, live, theEvent, theMember, theWell } from './find.ts';
import { type Crew, changePeople } from './open-crew.ts';
import { askNow } from './questions.ts';
import { type Keys, readingMode, swap } from './reading-mode.ts';
import { people, showConflicts, showStatus, showWell } from './show.ts';
import { showWells } from './show-wells.ts';

export interface Given {
  readonly words: readonly string[];
  readonly option: (name: string) => string | undefined;
  readonly said: (flag: string) => boolean;
  readonly keys: Keys;
  readonly write: (text: string) => void;
}

/** What a command gives back: false where it could not be completed and nothing was lost. */
type Run = (crew: Crew, given: Given) => Promise<unknown>;

export interface Command {
  readonly usage: string;
  readonly does: string;
  readonly run: Run;
}

function word({ words }: Given, at: number, usage: string): string {
  const found = words[at];
  if (found !== undefined && found !== '') return found;
  throw new CrewError(`something is missing: crew ${usage}`);
}

/** Says that it is on the disk, and then what the rules ask of it. */
async function kept(crew: Crew, capturing: Promise<Captured>): Promise<void> {
  const captured = await capturing;
  crew.say(`kept as number ${captured.sequence} (${captured.id}); ${await people(crew)}`);
  await askNow(crew, captured);
}

async function who(crew: Crew, { option }: Given): Promise<void> {
  const [reads, writes] = [option('reads'), option('writes')];
  // Both are looked up first: one of them alone would be half of what was meant.
  const reader = reads === undefined ? null : await theMember(crew, reads);
  const writer = writes === undefined ? null : await theMember(crew, writes);
  await changePeople(crew, { ...(reader && { reads: reader.id }), ...(writer && { writes: writer.id }) });
  crew.say(await people(crew));
  if (reader || writer) return;
  for (const member of await live(crew, 'member')) {
    crew.say(`  ${String(member.fields.initials).padEnd(8)} ${String(member.fields.name)}`);
  }
}

function numbered<Item>(items: readonly Item[], given: string, what: string): Item {
  const found = /^\d+$/.test(given) ? items[Number(given) - 1] : undefined;
  if (found !== undefined) return found;
  throw new CrewError(`there is no ${what} ${given}: crew conflicts lists them`);
}

/** What a crew decides is set aside at the server until a coordinator looks at it: said before it is kept. */
function mustMayDecide(mayDecide: boolean | null, anyway: boolean): void {
  if (mayDecide !== false || anyway) return;
  throw new CrewError(
    'the token of this device is of a crew, and the server takes decisions from coordinators: it would set yours ' +
      'aside until one of them releases it. Tell them what you know, or add --anyway to send it as a proposal',
  );
}

async function resolve(crew: Crew, given: Given): Promise<void> {
  const usage = 'resolve CONFLICT VALUE [--reason TEXT]';
  const conflict = numbered(await crew.client.conflicts(), word(given, 0, usage), 'conflict');
  const { choices, mayDecide } = conflict;
  const value = choices.length === 0 ? undefined : numbered(choices, word(given, 1, usage), 'value').value;
  mustMayDecide(mayDecide, given.said('anyway'));
  await kept(crew, crew.client.resolve(conflict.id, value, given.option('reason')));
}

async function copyOut(crew: Crew, file: string): Promise<void> {
  const bytes = await crew.client.exportOutbox();
  await writeFile(file, bytes, { mode: 0o600 });
  crew.say(`${file} has what this device keeps: give it to a partner, who takes it with crew carry FILE`);
}

async function carry(crew: Crew, file: string): Promise<void> {
  const bytes = await readFile(file).catch((error: Error) => {
    throw new CrewError(`${file} cannot be read: ${error.message}`);
  });
  const { taken, known } = await crew.client.importOutbox(bytes);
  crew.say(`carried from now on: ${taken}; known before: ${known}. The next sync hands them in`);
}

export const COMMANDS: Readonly<Record<string, Command>> = {
  sync: { usage: 'sync', does: 'send what is unsent, get what is new', run: (crew) => sync(crew) },
  wells: {
    usage: 'wells',
    does: 'the wells of the event, whose they are, how they stand',
    run: (crew) => showWells(crew),
  },
  well: {
    usage: 'well WELL',
    does: 'what is recorded there, and what the server made of it',
    run: (crew, given) => showWell(crew, word(given, 0, 'well WELL')),
  },
  event: {
    usage: 'event NAME',
    does: 'work in this event, where several are open',
    run: async (crew, given) => {
      const event = await eventNamed(crew, word(given, 0, 'event NAME'));
      await crew.change({ event: event.id });
      crew.say(`working in ${String(event.fields.name)}`);
    },
  },
  who: {
    usage: 'who [--reads INITIALS] [--writes INITIALS]',
    does: 'who reads and who writes, or the people',
    run: who,
  },
  swap: {
    usage: 'swap',
    does: 'who read now writes',
    run: async (crew) => {
      await swap(crew);
      crew.say(await people(crew));
    },
  },
  level: {
    usage: 'level WELL DEPTH|dry|flowing|frozen|obstructed [--purpose before-purge|pumping|recovery|final|synoptic]',
    does: 'a water level in feet below the measuring point; above it: --depth=-0.35',
    run: (crew, given) => {
      const usage = 'level WELL DEPTH';
      const depth = given.option('depth') ?? word(given, 1, usage);
      const options = { purpose: given.option('purpose'), again: given.said('again') };
      return kept(crew, enterLevel(crew, word(given, 0, usage), depth, options));
    },
  },
  reading: {
    usage: 'reading WELL ph=7.10 temp=15.2 ... [--method low-flow] [--again]',
    does: 'one line of the purge log; --again begins a second visit at a well that you left',
    run: (crew, given) => {
      const options = { method: given.option('method'), again: given.said('again') };
      return kept(crew, enterReading(crew, word(given, 0, 'reading WELL ph=7.10'), given.words.slice(1), options));
    },
  },
  correct: {
    usage: 'correct RECORD ph=7.10 ... --reason TEXT',
    does: 'put a value right; the old one stays readable. RECORD: its number, last, or its # of crew well',
    run: (crew, given) => {
      const record = word(given, 0, 'correct RECORD ph=7.10 --reason TEXT');
      return kept(crew, correct(crew, record, given.words.slice(1), given.option('reason')));
    },
  },
  void: {
    usage: 'void RECORD --reason TEXT',
    does: 'take a record out of the count; it stays readable',
    run: (crew, given) =>
      kept(crew, voidOne(crew, word(given, 0, 'void RECORD --reason TEXT'), given.option('reason'))),
  },
  call: {
    usage: 'call WELL stable|not-stable-sampled|not-stable-stopped|purging-continued|purged-dry',
    does: 'what you decided about the water',
    run: (crew, given) => {
      const usage = 'call WELL DECISION';
      return kept(crew, enterCall(crew, word(given, 0, usage), word(given, 1, usage), given.option('remark')));
    },
  },
  read: {
    usage: 'read WELL',
    does: 'readings one after the other; Tab changes who reads and who writes',
    run: async (crew, given) => {
      const name = word(given, 0, 'read WELL');
      const well = await theWell(crew, await theEvent(crew), name);
      const { keys, write } = given;
      await readingMode(crew, String(well.fields.name), { keys, write, again: given.said('again') });
    },
  },
  leave: {
    usage: 'leave WELL OUTCOME [--reason TEXT]',
    does: 'the visit ends: sampled, gauged-only, dry, not-stable, no-access ...',
    run: (crew, given) => {
      const usage = 'leave WELL OUTCOME';
      return kept(crew, leave(crew, word(given, 0, usage), word(given, 1, usage), given.option('reason')));
    },
  },
  status: {
    usage: 'status',
    does: 'how your open visits stand, and what is unsent, kept, carried, set aside',
    run: (crew) => showStatus(crew),
  },
  conflicts: { usage: 'conflicts', does: 'where two people said different things', run: (crew) => showConflicts(crew) },
  resolve: {
    usage: 'resolve CONFLICT VALUE [--reason TEXT] [--anyway]',
    does: 'say which value stands; the server takes it from a coordinator, --anyway proposes it to one',
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
