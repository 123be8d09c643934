import type { KindDefinition } from '../../protocol/kind.ts';
import { Problem } from '../../protocol/problem.ts';
import type { StoredRecord } from '../../store/read/records.ts';

/**
 * The revision of a record as its entity tag. A derived record that was withdrawn begins again at revision 1, so the
 * tag of a derived record also holds the hash of its content.
 */
export function etagOf(kind: KindDefinition, record: StoredRecord): string {
  const { rev } = record.state;
  return kind.family === 'derived' ? `"${rev}-${record.rowHash}"` : `"${rev}"`;
}

/** If-None-Match compares weakly (RFC 9110, 13.1.2). */
export function isKnown(ifNoneMatch: string | undefined, etag: string): boolean {
  if (ifNoneMatch === undefined) return false;
  const tags = ifNoneMatch.split(',').map((tag) => tag.trim().replace(/^W\//, ''));
  return tags.includes('*') || tags.includes(etag);
}

/**
 * The revision that If-Match names; null where nothing is asked for.
 *
 * @throws Problem `bad_request` where it is no entity tag of ours
 */
export function revisionOf(ifMatch: string | undefined): number | null {
  if (ifMatch === undefined || ifMatch.trim() === '*') return null;
  const [, rev] = /^"(\d{1,9})(?:-[0-9a-f]{16})?"$/.exec(ifMatch.trim()) ?? [];
  if (rev !== undefined) return Number(rev);
  throw new Problem('bad_request', `If-Match: ${ifMatch.slice(0, 80)} was given; send the one ETag that you read`);
}
