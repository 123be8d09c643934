import { SHORT_NAMES } from '../../src/client-node/crew/enter.ts';
import { PEOPLE, type PersonName } from '../firm/people.ts';
import type { Row } from './curves.ts';
import { calledMs, type Purging, readLog, sampleAndLeave, startVisit } from './visit.ts';
import { PLANS } from './visit-plans.ts';
import type { Day, TypingCrew, World } from './world.ts';

interface Typed {
  readonly atMs: number;
  readonly keys: string;
}

const SHORT_OF = new Map(Object.entries(SHORT_NAMES).map(([short, field]) => [field as string, short]));
const TAB = '\t';
/** Readings after which the two change. */
const CHANGED_AFTER = 7;

function initialsOf(name: PersonName): string {
  const found = PEOPLE.find((one) => one.name === name);
  if (!found) throw new Error(`nobody is called ${name}`);
  return found.initials;
}

function typedRow({ fields }: Row): string {
  return `${Object.entries(fields)
    .map(([field, value]) => `${SHORT_OF.get(field) ?? field}=${value}`)
    .join(' ')}\n`;
}

/** The log from a line on, the change of the two in the middle of it, and the call. */
function typedLog(purging: Purging, from: number): Typed[] {
  const { rows, beganMs } = purging;
  const readings = rows.slice(from - 1).flatMap((row, index): Typed[] => {
    const atMs = beganMs + row.seconds * 1_000;
    const typed = { atMs, keys: typedRow(row) };
    return from + index === CHANGED_AFTER ? [typed, { atMs, keys: TAB }] : [typed];
  });
  return [...readings, { atMs: calledMs(purging), keys: 'call stable\ndone\n' }];
}

async function* inTime({ agenda }: World, typed: readonly Typed[]): AsyncGenerator<string> {
  for (const { atMs, keys } of typed) {
    await agenda.until(atMs);
    yield keys;
  }
}

/** One reads and the other types, into the command line that a crew has on a computer; one key changes them. */
export async function typeVisit(world: World, day: Day, crew: TypingCrew, at: string): Promise<void> {
  const [phone] = crew.phones;
  const [reader, writer] = crew.people;
  const plan = { ...PLANS.mw2, at, reader };
  await phone.crew(['who', '--reads', initialsOf(reader), '--writes', initialsOf(writer)]);
  const purging = await startVisit(world, day, crew, plan);
  await readLog(purging, 1, 1);
  await phone.crew(['read', plan.well], inTime(world, typedLog(purging, 2)));
  await sampleAndLeave({ ...purging, stop: { ...purging.stop, reader: writer } }, plan);
  world.tell(crew.name, `${plan.well} sampled; ${reader} read and ${writer} typed, until they changed`);
}
