import { Problem } from '../protocol/problem.ts';
import type { RecordState } from '../protocol/record.ts';
import type { KitRecords } from '../rules/kit/kit-records.ts';
import { type KitGiven, type KitTold, kitTold } from '../rules/kit/kit-told.ts';
import { readable } from '../rules/readable.ts';
import { instantMs } from '../science/instant-ms.ts';
import { kitStates } from '../store/read/kit-records.ts';
import { recordStates } from '../store/read/record-states.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import { inSight } from './in-sight.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';

type Asked = KitGiven & Pick<Reader, 'device'> & { readonly now: string };

/** A day is nowhere on earth longer than this before or after that of UTC. */
const OFFSET_MS = 14 * 3_600_000;
const DAY_MS = 86_400_000;

async function crewOf(tx: ReadTx, { crew, device }: Asked): Promise<string> {
  if (crew !== undefined) return crew;
  const rows = device === null ? [] : await recordStates(tx, [device], null);
  const its = rows[0]?.state.fields.crew;
  if (typeof its === 'string') return its;
  throw new Problem('bad_request', 'no crew is named, and none carries the device that asks: name one as crew=ID');
}

/** The first day of the event that is not over, by UTC. */
function dayOf({ fields }: RecordState, { day, now }: Asked): string {
  const { starts, ends } = fields as { readonly starts: string; readonly ends: string };
  const today = now.slice(0, 10);
  if (day !== undefined) return day;
  if (today < starts) return starts;
  if (today > ends) return ends;
  return today;
}

function coversDay(signOut: RecordState, day: string): boolean {
  const { from, until } = signOut.fields as { readonly from: string; readonly until?: string };
  return from.slice(0, 10) <= day && (until === undefined || until.slice(0, 10) >= day);
}

/** What was stored has the shape of its kind, once it is read as one. */
function ofKind<Record>(states: readonly RecordState[], kind: string): readonly Record[] {
  const its = states.filter((state) => state.kind === kind && state.voided === null);
  return its.toSorted((a, b) => (a.id < b.id ? -1 : 1)).map((state) => readable(state) as unknown as Record);
}

/**
 * What a crew needs for a day of an event, and what its last check of the kit said.
 *
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing` for an event that is not there or that the reader does not see, or no crew
 */
export async function eventKit(
  tx: ReadTx,
  feeds: readonly string[] | null,
  id: string,
  asked: Asked,
): Promise<KitTold> {
  const { state: event } = await inSight(tx, feeds, 'event', id);
  const crew = await crewOf(tx, asked);
  await inSight(tx, null, 'crew', crew);
  const day = dayOf(event, asked);
  const startMs = instantMs(`${day}T00:00:00Z`);
  const states = await kitStates(tx, {
    event: id,
    crew,
    site: String(event.fields.site),
    from: new Date(startMs - OFFSET_MS).toISOString(),
    until: new Date(startMs + DAY_MS + OFFSET_MS).toISOString(),
  });
  const out = states.filter((state) => state.kind === 'sign-out' && coversDay(state, day));
  const units = new Set(out.map(({ fields }) => fields.unit));
  const { plan } = (readable(event) as unknown as { readonly fields: Pick<KitRecords, 'plan'> }).fields;
  return kitTold({
    event: id,
    crew,
    day,
    site: ofKind<NonNullable<KitRecords['site']>>(states, 'site')[0] ?? null,
    plan,
    assignments: ofKind(states, 'assignment'),
    wells: ofKind(states, 'well'),
    visits: ofKind(states, 'visit'),
    units: ofKind<KitRecords['units'][number]>(states, 'unit').filter((unit) => units.has(unit.id)),
    checks: ofKind(states, 'kit-check'),
  });
}

export function readEventKit(
  { pool }: Pick<ReadContext, 'pool'>,
  reader: Reader,
  event: string,
  given: KitGiven & { readonly now: string },
): Promise<KitTold> {
  return inRead(pool, reader.firm, async (tx) =>
    eventKit(tx, await feedsInSight(tx, reader), event, { ...given, device: reader.device }),
  );
}
