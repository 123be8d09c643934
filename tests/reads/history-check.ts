import { createHash } from 'node:crypto';

/** A row of an export, as whoever got the file sees it: nothing of the server's code is used here. */
export interface ExportedEntry {
  readonly feed: string;
  readonly seq: number;
  readonly kind: string;
  readonly id: string;
  readonly rev: number;
  readonly act: string;
  readonly byName: string | null;
  readonly reason: string | null;
  readonly device: { readonly label: string | null } | null;
  readonly decision: string | null;
  readonly changes: readonly { field: string; was?: unknown; is?: unknown; wasName?: string; isName?: string }[];
  readonly historyHashBefore: string;
  readonly historyHash: string;
  readonly record: { readonly fields: Record<string, unknown>; readonly voided: unknown } | null;
}

/** RFC 8785 for what the records hold: members in the order of their names, no spaces. */
function sorted(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(sorted).join(',')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const members = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return `{${members.map(([name, member]) => `${JSON.stringify(name)}:${sorted(member)}`).join(',')}}`;
}

function sha256(...parts: readonly (Buffer | string)[]): Buffer {
  return parts.reduce((hash, part) => hash.update(part), createHash('sha256')).digest();
}

/** The history hash of a row, from what the export says of it. */
export function hashOf({ historyHashBefore, seq, kind, id, record }: ExportedEntry): string {
  const place = Buffer.alloc(8);
  place.writeBigUInt64BE(BigInt(seq));
  const digest = sha256(sorted(record ?? { gone: { kind, id } }));
  return sha256(Buffer.from(historyHashBefore, 'hex'), place, digest).toString('hex');
}

/** The last state of each record, put together from the changes alone. */
export function rebuilt(entries: readonly ExportedEntry[]): Map<string, Record<string, unknown>> {
  const states = new Map<string, Record<string, unknown>>();
  for (const { id, changes } of entries) {
    const state = states.get(id) ?? {};
    states.set(id, state);
    for (const { field, is } of changes) {
      if (is === undefined) delete state[field];
      else state[field] = is;
    }
  }
  return states;
}
