import type { Captured } from '../../client/capture.ts';
import type { ViewRecord } from '../../client/overlay.ts';
import { kindNamed } from '../../protocol/kinds-by-name.ts';
import type { Observed, RecordState } from '../../protocol/record.ts';
import { CrewError } from './crew-error.ts';
import { quantityName } from './enter.ts';
import { keptNumbers } from './kept-numbers.ts';
import type { Crew } from './open-crew.ts';
import { onceEach } from './pairs.ts';
import { clockTime, onDayOf } from './time-of-day.ts';

/** So many letters and figures at the end of an id name a record on a screen. */
const REF_LENGTH = 6;

export function refOf({ id }: Pick<RecordState, 'id'>): string {
  return id.slice(-REF_LENGTH);
}

/** Fields that are a date and time; of the kinds that a crew corrects. */
const INSTANTS = ['arrived', 'left', 'began', 'ended', 'collected', 'laboratoryTime', 'from', 'until'];

const CORRECTABLE = [
  'visit',
  'purge',
  'water-level',
  'sounding',
  'pump-set-up',
  'reading',
  'occurrence',
  'call',
  'sample',
  'unit-use',
  'sign-out',
  'decon',
  'decon-step',
  'part',
  'part-change',
  'calibration-check',
  'blank',
  'container',
  'fill',
];

/** The number is that of the capture on this device: it stays when the client id changes, and names no other record. */
async function byNumber(crew: Crew, given: string): Promise<string | undefined> {
  return (await keptNumbers(crew)).find(({ number }) => number === Number(given))?.id;
}

async function lastOwn(crew: Crew): Promise<string | undefined> {
  const numbers = await keptNumbers(crew);
  return numbers.findLast(({ kind }) => CORRECTABLE.includes(kind) && kind !== 'visit' && kind !== 'purge')?.id;
}

async function byRef(crew: Crew, given: string): Promise<string | undefined> {
  const wanted = given.replace(/^#/, '').toLowerCase();
  if (wanted.length < REF_LENGTH) return undefined;
  const all = await Promise.all(CORRECTABLE.map((kind) => crew.client.all(kind)));
  const found = all.flat().filter(({ record }) => record.id.endsWith(wanted));
  if (found.length > 1) throw new CrewError(`${found.length} records end in ${given}: give the whole id`);
  return found[0]?.record.id;
}

/** A record by the number that was said when it was kept, by the end of its id, or the last one. */
async function theRecord(crew: Crew, given: string): Promise<ViewRecord> {
  const number = /^\d+$/.test(given) ? await byNumber(crew, given) : undefined;
  const id = given === 'last' ? await lastOwn(crew) : (number ?? (await byRef(crew, given)));
  const found = id === undefined ? null : await crew.client.one(id);
  if (found && CORRECTABLE.includes(found.record.kind)) return found;
  throw new CrewError(
    `there is no record "${given}" here that a crew corrects: give the number that was said when it was kept on this ` +
      'device, "last", or the sign behind # that crew well WELL shows, whoever recorded it',
  );
}

/** Somebody else's record may be corrected too; it is said, since two corrections of one value become a conflict. */
async function sayWhose(crew: Crew, { record }: ViewRecord): Promise<void> {
  const { client } = await crew.client.identity();
  if (record.client !== null && record.client !== client) {
    crew.say(`the last word on this ${record.kind} was not of this device: if both correct one value, both are kept`);
  }
}

function reasonIn(reason: string | undefined, verb: string): string {
  if (reason !== undefined && reason.trim() !== '') return reason;
  throw new CrewError(`say why, so that the old value stays readable beside it: crew ${verb} ... --reason TEXT`);
}

type Change = readonly [string, unknown];

/** When it was seen: the rest of who, when and how stays. */
function seenAnew({ fields }: RecordState, given: string): Change {
  const observed = fields.observed as Observed;
  const time = clockTime(given);
  if (time === undefined) throw new CrewError(`"${given}" is no time of the day: at=09:45 says when it was seen`);
  return ['observed', { ...observed, at: onDayOf(observed.at, time), captured: 'same-day' }];
}

const isText = (value: unknown): value is string => typeof value === 'string';

/** 09:45 is a time of the day that is on record; where none is, of the day on which the record was made. */
function valueIn({ fields }: RecordState, name: string, given: string): string | null {
  if (given === '') return null;
  const time = clockTime(given);
  if (time === undefined || !INSTANTS.includes(name)) return given;
  const days = [fields[name], (fields.observed as Observed | undefined)?.at, ...INSTANTS.map((one) => fields[one])];
  const day = days.find(isText);
  return day === undefined ? given : onDayOf(day, time);
}

/** name=value; nothing behind the sign clears a figure that may be missing. */
function changeIn(record: RecordState, pair: string): Change {
  const { kind } = record;
  const sign = pair.indexOf('=');
  if (sign < 1) throw new CrewError(`"${pair}" is no change: give ph=7.10, depth=12.34 and so on`);
  const [name, value] = [pair.slice(0, sign), pair.slice(sign + 1)];
  const shape = kindNamed(kind)?.fields.shape ?? {};
  if (name === 'at' && 'observed' in shape) return seenAnew(record, value);
  const short: Readonly<Record<string, string>> = { depth: kind === 'sounding' ? 'depthToBottomFt' : 'depthToWaterFt' };
  const known = [name, quantityName(name), short[name]].find((one) => one !== undefined && one in shape);
  if (known !== undefined) return [known, valueIn(record, known, value)];
  const plain = Object.keys(shape).filter(
    (one) => !['observed', 'visit', 'purge', 'shown', 'unit', 'decon'].includes(one),
  );
  throw new CrewError(`a ${kind.replaceAll('-', ' ')} has no "${name}": it has ${plain.join(', ')}`);
}

function shown(value: unknown): string {
  if (typeof value === 'object' && value !== null && 'at' in value) return String(value.at);
  return value === null || value === undefined || value === '' ? 'nothing' : String(value);
}

/** A correction that changes nothing stays on record as one, and says that a right value was wrong. */
function mustChange({ kind, fields }: RecordState, set: Readonly<Record<string, unknown>>): void {
  const same = Object.entries(set).filter(([name, value]) => shown(fields[name]) === shown(value));
  if (same.length < Object.keys(set).length) return;
  const as = same.map(([name, value]) => `${name === 'observed' ? 'at' : name} is ${shown(value)}`).join(', ');
  throw new CrewError(
    `nothing changes: ${as} in that ${kind.replaceAll('-', ' ')} already. Is it another record, or value?`,
  );
}

export async function correct(
  crew: Crew,
  given: string,
  pairs: readonly string[],
  reason: string | undefined,
): Promise<Captured> {
  const found = await theRecord(crew, given);
  const { kind, id } = found.record;
  if (pairs.length === 0) throw new CrewError('nothing to change was given: crew correct RECORD ph=7.10 --reason TEXT');
  const set = onceEach(pairs.map((pair) => changeIn(found.record, pair)));
  mustChange(found.record, set);
  const why = reasonIn(reason, 'correct');
  await sayWhose(crew, found);
  for (const [name, value] of Object.entries(set)) {
    const before = shown(found.record.fields[name]);
    crew.say(`${kind} #${refOf(found.record)}: ${name === 'observed' ? 'at' : name} ${before} -> ${shown(value)}`);
  }
  return crew.client.amend(kind, id, set, { reason: why });
}

/** Takes a record out of the count; it stays readable with the reason. */
export async function voidOne(crew: Crew, given: string, reason: string | undefined): Promise<Captured> {
  const found = await theRecord(crew, given);
  const { kind, id, voided } = found.record;
  if (voided !== null) throw new CrewError(`that ${kind} is void already: ${voided.reason}`);
  const why = reasonIn(reason, 'void');
  await sayWhose(crew, found);
  return crew.client.voidRecord(kind, id, why);
}
