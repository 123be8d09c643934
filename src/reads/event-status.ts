import type pg from 'pg';
import { Problem } from '../protocol/problem.ts';
import { assignmentRows } from '../store/read/event-status-assignments.ts';
import { openClaimRows } from '../store/read/event-status-claims.ts';
import { eventRows } from '../store/read/event-status-events.ts';
import { conflictCountRows, flagCountRows } from '../store/read/event-status-questions.ts';
import { visitRows } from '../store/read/event-status-visits.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { crewsInTouch } from './crews-in-touch.ts';
import { assembleStatus, type EventFacts } from './event-status-assembly.ts';
import type { EventStatus } from './event-status-result.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import { groupBy } from './group-by.ts';
import type { Reader } from './reader.ts';

function byEvent<Row extends { readonly event: string }>(rows: readonly Row[]): (event: string) => readonly Row[] {
  const groups = groupBy(rows, (row) => row.event);
  return (event) => groups.get(event) ?? [];
}

/**
 * How events stand, in eight statements however many they are and however many wells they have.
 *
 * @param feeds the feeds that the reader may see; null for every feed of the firm
 * @returns the events that are there and may be seen
 */
export async function eventStatuses(
  tx: ReadTx,
  ids: readonly string[],
  feeds: readonly string[] | null,
): Promise<ReadonlyMap<string, EventStatus>> {
  const events = await eventRows(tx, ids, feeds);
  const seen = events.map((event) => event.id);
  const assignments = await assignmentRows(tx, seen);
  const visits = await visitRows(tx, seen);
  const claims = await openClaimRows(tx, seen);
  const flags = byEvent(await flagCountRows(tx, seen));
  const conflicts = byEvent(await conflictCountRows(tx, seen));
  const crews = [...assignments, ...visits, ...claims].map((row) => row.crew);
  const inTouch = await crewsInTouch(tx, [...new Set(crews)]);
  const [assigned, visited, claimed] = [byEvent(assignments), byEvent(visits), byEvent(claims)];
  const facts = (event: (typeof events)[number]): EventFacts => ({
    event,
    assignments: assigned(event.id),
    visits: visited(event.id),
    claims: claimed(event.id),
    flags: flags(event.id),
    conflicts: conflicts(event.id),
    inTouch,
  });
  return new Map(events.map((event) => [event.id, assembleStatus(facts(event))]));
}

/**
 * How one event stands.
 *
 * @throws Problem `record_missing` for an event that is not there, or that the reader does not follow
 */
export function eventStatus(pool: pg.Pool, reader: Reader, id: string): Promise<EventStatus> {
  return inRead(pool, reader.firm, async (tx) => {
    const status = (await eventStatuses(tx, [id], await feedsInSight(tx, reader))).get(id);
    if (!status) throw new Problem('record_missing', `no event ${id} is among the records that you may read`);
    return status;
  });
}
