import type { Observed } from '../../protocol/record.ts';
import type { HistoryEntry } from '../../rules/record-history/history-entry.ts';
import { csvLine } from '../csv/csv-cell.ts';
import { type FlatChange, flatChanges } from './flat-changes.ts';

type Cell = string | number | null | undefined;
type Column = readonly [string, (entry: HistoryEntry, change: FlatChange | null) => Cell];

function nameOf({ names }: HistoryEntry, id: string | null | undefined): Cell {
  return id === null || id === undefined ? null : (names.get(id) ?? null);
}

function observedIn({ state }: HistoryEntry): Observed | undefined {
  return state?.fields.observed as Observed | undefined;
}

/** An office token is of no device; what it is called is told by the list of tokens. */
function tokenOf({ handedInBy }: HistoryEntry): string | null {
  return handedInBy?.token === undefined ? null : `token ${handedInBy.token}`;
}

/** A record carries the clock by which it was first captured: of a later change of it, by another device maybe, none is kept. */
function clockOf({ rev, state }: HistoryEntry) {
  return rev === 1 ? state?.clock : undefined;
}

/** The one list of columns, what a person reads first and what a program checks last. */
const COLUMNS: readonly Column[] = [
  ['observed_at', (entry) => observedIn(entry)?.at],
  ['kind', ({ kind }) => kind],
  ['act', ({ act }) => act],
  ['field', (_entry, change) => change?.field],
  ['was', (_entry, change) => change?.was],
  ['is', (_entry, change) => change?.is],
  ['was_name', (entry, change) => nameOf(entry, change?.was)],
  ['is_name', (entry, change) => nameOf(entry, change?.is)],
  ['reason', ({ state }) => state?.reason],
  ['read_by', (entry) => nameOf(entry, observedIn(entry)?.readBy)],
  ['written_by', (entry) => nameOf(entry, observedIn(entry)?.writtenBy)],
  ['entered_at', (entry) => observedIn(entry)?.entered],
  ['captured', (entry) => observedIn(entry)?.captured],
  ['by', (entry) => nameOf(entry, entry.state?.by)],
  ['device', (entry) => nameOf(entry, entry.device)],
  ['handed_in_by', (entry) => nameOf(entry, entry.handedInBy?.device) ?? tokenOf(entry)],
  ['device_clock', (entry) => clockOf(entry)?.wall],
  ['device_clock_off_ms', (entry) => clockOf(entry)?.differenceMs],
  ['received_at', ({ receivedAt }) => receivedAt],
  ['record', ({ id }) => id],
  ['revision', ({ rev }) => rev],
  ['client', ({ client }) => client],
  ['mutation', ({ mutation }) => mutation],
  ['decision', ({ decision }) => decision],
  ['feed', ({ feed }) => feed],
  ['seq', ({ seq }) => seq],
  ['history_hash_before', ({ historyHashBefore }) => historyHashBefore],
  ['history_hash', ({ historyHash }) => historyHash],
];

/** When and by whom something new was seen stands in columns of its own: it has no further lines. */
function isInColumns(change: FlatChange): boolean {
  return change.was === null && /^observed\.(at|entered|captured|readBy|writtenBy)$/.test(change.field);
}

export function historyCsvHead(): string {
  return csvLine(COLUMNS.map(([head]) => head));
}

/** The last line, with the number of entries: a file that was cut off does not have it. */
export function historyCsvTail(count: number): string {
  const cells: Readonly<Record<string, Cell>> = { act: 'end', field: 'entries', is: count };
  return csvLine(COLUMNS.map(([head]) => cells[head]));
}

/** One line a changed value; what changed nothing (it left a feed, it was said again) has one line all the same. */
export function historyCsvLines(entry: HistoryEntry): string {
  const changes = flatChanges(entry.changes).filter((change) => !isInColumns(change));
  const lines = changes.length > 0 ? changes : [null];
  return lines.map((change) => csvLine(COLUMNS.map(([, cell]) => cell(entry, change)))).join('');
}
