import type { HistoryEntry } from '../../rules/record-history/history-entry.ts';
import { toldEntry } from './told-entry.ts';

/** How a reader checks a row alone, told in the export itself. */
export const HISTORY_CHECK =
  'historyHash is the SHA-256 of: historyHashBefore (32 bytes), seq (8 bytes, big-endian), and the SHA-256 of the ' +
  'RFC 8785 text of record, or, where record is null, of {"gone":{"id":ID,"kind":KIND}}. historyHashBefore is the ' +
  'historyHash of row seq - 1 of the same feed, and zeros before row 1.';

interface About {
  readonly kind: string;
  readonly id: string;
}

export function historyJsonHead(about: About): string {
  return `{"about":${JSON.stringify({ kind: about.kind, id: about.id })},"check":${JSON.stringify(HISTORY_CHECK)},"entries":[`;
}

/** The record stands in it as it is stored, byte for byte. */
export function historyJsonEntry(entry: HistoryEntry, isFirst: boolean): string {
  const head = JSON.stringify(toldEntry(entry));
  return `${isFirst ? '' : ','}\n${head.slice(0, -1)},"record":${entry.text ?? 'null'}}`;
}

/** The number at the end tells a whole export from one that was cut off. */
export function historyJsonTail(count: number): string {
  return `\n],"count":${count}}\n`;
}
