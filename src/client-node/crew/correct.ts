import type { Captured } from '../../client/capture.ts';
import type { ViewRecord } from '../../client/overlay.ts';
import { kindNamed } from '../../protocol/kinds-by-name.ts';
import type { RecordState } from '../../protocol/record.ts';
import { CrewError } from './crew-error.ts';
import { quantityName } from './enter.ts';
import { keptNumbers } from './kept-numbers.ts';
import type { Crew } from './open-crew.ts';

/** So many letters and figures at the end of an id name a record on a screen. */
const REF_LENGTH = 6;

export function refOf({ id }: Pick<RecordState, 'id'>): string {
  return id.slice(-REF_LENGTH);
}

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

/** name=value; nothing behind the sign clears a figure that may be missing. */
function changeIn(kind: string, pair: string): [string, string | null] {
  const sign = pair.indexOf('=');
  if (sign < 1) throw new CrewError(`"${pair}" is no change: give ph=7.10, depth=12.34 and so on`);
  const [name, value] = [pair.slice(0, sign), pair.slice(sign + 1)];
  const shape = kindNamed(kind)?.fields.shape ?? {};
  const short: Readonly<Record<string, string>> = { depth: kind === 'sounding' ? 'depthToBottomFt' : 'depthToWaterFt' };
  const known = [name, quantityName(name), short[name]].find((one) => one !== undefined && one in shape);
  if (known !== undefined) return [known, value === '' ? null : value];
  const plain = Object.keys(shape).filter(
    (one) => !['observed', 'visit', 'purge', 'shown', 'unit', 'decon'].includes(one),
  );
  throw new CrewError(`a ${kind.replaceAll('-', ' ')} has no "${name}": it has ${plain.join(', ')}`);
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
  const set = Object.fromEntries(pairs.map((pair) => changeIn(kind, pair)));
  const why = reasonIn(reason, 'correct');
  await sayWhose(crew, found);
  for (const [name, value] of Object.entries(set)) {
    crew.say(
      `${kind} #${refOf(found.record)}: ${name} ${String(found.record.fields[name] ?? 'nothing')} -> ${value ?? 'nothing'}`,
    );
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
