import { deadlineCalendar } from '../documents/calendar/deadline-calendar.ts';
import type { RecordState } from '../protocol/record.ts';
import type { ContainerClocks } from '../rules/samples/deadlines/container-clocks.ts';
import { type ClocksAsked, clocksAsked, eventClocks } from '../rules/samples/deadlines/event-clocks.ts';
import { EVENT_SAMPLES_KINDS, eventSamples } from '../rules/samples/event-samples.ts';
import { feedStates } from '../store/read/feed-states.ts';
import { lastChanges } from '../store/read/last-changes.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { calendarEntries, type Revised } from './calendar-entries.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import { inSight } from './in-sight.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';

/** A crew fills several bottles in that time. Common practice, no source. */
const REFRESH_MINUTES = 15;
/** What a deadline follows from; each change of one of them is a revision of it. */
const KINDS = ['event', 'analyte-suite', 'container', 'fill', 'sample', 'blank', 'sample-receipt', 'laboratory-result'];

/** Revisions of the records that a deadline follows from, added up: it grows with every change, also when one is voided. */
class Revisions {
  readonly #of = new Map<string, Revised>();

  constructor(states: readonly RecordState[], changes: ReadonlyMap<string, number>) {
    for (const { kind, id, rev, fields } of states) {
      if (!KINDS.includes(kind)) continue;
      const atMs = changes.get(id) ?? 0;
      for (const key of keysOf(kind, id, fields)) {
        const before = this.#of.get(key) ?? { revisions: 0, atMs: 0 };
        this.#of.set(key, { revisions: before.revisions + rev, atMs: Math.max(before.atMs, atMs) });
      }
    }
  }

  of(...keys: readonly (string | undefined)[]): Revised {
    const found = keys.flatMap((key) => (key === undefined ? [] : (this.#of.get(key) ?? [])));
    return {
      revisions: found.reduce((sum, { revisions }) => sum + revisions, 0),
      atMs: Math.max(...found.map(({ atMs }) => atMs)),
    };
  }
}

/** Under which ids the revisions of a record count. */
function keysOf(kind: string, id: string, fields: Readonly<Record<string, unknown>>): readonly string[] {
  const texts = (...values: readonly unknown[]) => values.filter((value) => typeof value === 'string');
  if (kind === 'fill') return texts(fields.container);
  if (kind === 'sample-receipt') return [...texts(fields.cooler), 'receipts'];
  if (kind === 'laboratory-result') return texts(fields.sample ?? fields.blank);
  return kind === 'event' || kind === 'analyte-suite' ? ['all'] : [id];
}

function revisedOf(its: readonly ContainerClocks[], revisions: Revisions): Revised {
  const keys = its.flatMap(({ container, holder }) => [
    container.id,
    container.fields.cooler,
    holder.sample?.id,
    holder.blank?.id,
  ]);
  return revisions.of('all', 'receipts', ...new Set(keys));
}

/**
 * The deadlines of an event as an iCalendar feed: those of the laboratory, as what ends in minutes at the well is over
 * before a calendar asks again. What the laboratory has received runs on until it is analysed, and is struck only
 * where what is awaited is asked for.
 *
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing` for an event that is not there or that the reader does not see
 */
export async function eventCalendar(
  tx: ReadTx,
  feeds: readonly string[] | null,
  event: string,
  asked: Pick<ClocksAsked, 'cooler' | 'laboratory' | 'which'>,
): Promise<string> {
  const { state } = await inSight(tx, feeds, 'event', event);
  const its = [`event:${event}`, `site:${String(state.fields.site)}`, 'firm'];
  const states = await feedStates(tx, its, EVENT_SAMPLES_KINDS);
  const revisions = new Revisions([state, ...states], await lastChanges(tx, its, KINDS));
  const samples = eventSamples(state, states);
  const timeZone = samples.site?.fields.timeZone ?? 'UTC';
  const at = '1970-01-01T00:00:00Z';
  const all = clocksAsked(eventClocks(samples), {
    at,
    cooler: asked.cooler,
    laboratory: asked.laboratory,
    which: 'all',
  });
  const isStruck = ({ received }: ContainerClocks) => asked.which === 'awaited' && received !== undefined;
  const revised = (of: readonly ContainerClocks[]) => revisedOf(of, revisions);
  const deadlines = calendarEntries(all, { isStruck, revised, timeZone });
  const name = `Deadlines of ${samples.event.fields.name}`;
  return deadlineCalendar({ name, deadlines, refreshMinutes: REFRESH_MINUTES });
}

export function readEventCalendar(
  { pool }: Pick<ReadContext, 'pool'>,
  reader: Reader,
  event: string,
  asked: Pick<ClocksAsked, 'cooler' | 'laboratory' | 'which'>,
): Promise<string> {
  return inRead(pool, reader.firm, async (tx) => eventCalendar(tx, await feedsInSight(tx, reader), event, asked));
}
