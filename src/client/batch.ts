import { utf8ToBytes } from '@noble/hashes/utils.js';
import { LIMITS } from '../protocol/limits.ts';
import type { CarriedEntry, OutboxEntry } from './store.ts';

/** Left free of the body's limit for the header line. */
const HEADER_BYTES = 4_096;

/** What a push needs to know of a line: an own one or one that is carried. */
export type PushLine = Pick<CarriedEntry, 'client' | 'mutationId' | 'captured' | 'line' | 'schemaVersion' | 'outcome'>;

export interface Batch<Line extends PushLine = OutboxEntry> {
  readonly first: number;
  /** Of the shapes of all its lines: a phone that was brought up to date still says what each line was written in. */
  readonly schemaVersion: number;
  /** Of one client, numbered without a gap from `first` on. */
  readonly entries: readonly Line[];
}

/** The shapes in which a line was captured; the first that there were, where it does not say. */
export function versionOf({ schemaVersion = 1 }: Pick<PushLine, 'schemaVersion'>): number {
  return schemaVersion;
}

function lastUnanswered(entries: readonly PushLine[]): number {
  return entries.findLastIndex((entry) => entry.outcome === null);
}

/**
 * The next lines of one client to push: from the first unanswered one on, as many of one version as the limits allow,
 * without a gap. An answered one in between goes along, since numbers are dense; its answer will be the same.
 */
export function nextBatch<Line extends PushLine>(
  lines: readonly Line[],
  client: string,
  maxLines: number,
): Batch<Line> | null {
  const own = lines.filter((line) => line.client === client).sort((a, b) => a.mutationId - b.mutationId);
  const start = own.findIndex((entry) => entry.outcome === null);
  const begin = own[start];
  if (begin === undefined) return null;
  const [first, schemaVersion] = [begin.mutationId, versionOf(begin)];
  const entries: Line[] = [];
  let bytes = HEADER_BYTES;
  for (const entry of own.slice(start)) {
    bytes += utf8ToBytes(entry.line).length + 1;
    const fits = entries.length === 0 || (entries.length < maxLines && bytes <= LIMITS.pushBytes);
    const follows = entry.mutationId === first + entries.length && versionOf(entry) === schemaVersion;
    if (!follows || !fits) break;
    entries.push(entry);
  }
  return { first, schemaVersion, entries: entries.slice(0, lastUnanswered(entries) + 1) };
}
