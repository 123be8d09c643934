import type { Derived } from '../../rules/derive/derived.ts';
import type { Captured } from '../capture.ts';
import type { FieldClient } from '../client.ts';
import { identityOf } from '../context.ts';
import { visitOf } from '../visit-of.ts';
import { limitsOf, type NotLookedAt } from './limits.ts';
import { derivedHere, layOver, prepare } from './prepare.ts';
import type { FlagFields } from './preview.ts';

/** What the rules ask because of one capture. Nothing is refused: the record is kept, and the question stands beside it. */
export interface FlagsOfCapture {
  /** To ask at the well, while the value can still be looked at. */
  readonly now: readonly FlagFields[];
  /** For the evening and for the office. */
  readonly later: readonly FlagFields[];
  /** Asked before already, but this record shows something that it was not asked about. */
  readonly again: readonly FlagFields[];
  /** Asked before, and answered by this capture. */
  readonly cleared: readonly FlagFields[];
  readonly notLookedAt: readonly NotLookedAt[];
}

function raised(derived: readonly Derived[]): Map<string, FlagFields> {
  const flags = derived.filter(({ kind, fields }) => kind === 'flag' && fields.standing === 'raised');
  return new Map(flags.map(({ id, fields }) => [id, fields as unknown as FlagFields]));
}

/** Whether a flag rests, by this record, on something that it did not rest on before: a meter that stands still says nothing new. */
function showsMore(id: string, now: FlagFields, before: FlagFields | undefined): boolean {
  const known = new Set(before?.evidence.map(({ field, shows }) => `${field} ${shows}`));
  return now.evidence.some(({ record, field, shows }) => record === id && !known.has(`${field} ${shows}`));
}

/**
 * What one capture makes the rules ask, before it is sent: the visit is looked at as it stood before it and as it stands
 * with it. Null for a record that belongs to no visit.
 */
export async function previewFlags(client: FieldClient, { id, mutationId }: Captured): Promise<FlagsOfCapture | null> {
  const visit = await visitOf(client, id);
  if (visit === null) return null;
  const all = await prepare(client, visit);
  const own = (await identityOf(client.context.store)).client;
  const { pending } = all.here;
  const at = pending.findIndex(({ entry }) => entry.client === own && entry.mutationId === mutationId);
  const split = at === -1 ? pending.length : at;
  layOver(all, pending.slice(0, split));
  const before = raised(derivedHere(all));
  layOver(all, pending.slice(split));
  const after = raised(derivedHere(all));
  const fresh = [...after].filter(([flag]) => !before.has(flag)).map(([, fields]) => fields);
  const again = [...after].filter(([flag, fields]) => before.has(flag) && showsMore(id, fields, before.get(flag)));
  return {
    now: fresh.filter(({ addressee }) => addressee === 'now'),
    later: fresh.filter(({ addressee }) => addressee !== 'now'),
    again: again.map(([, fields]) => fields),
    cleared: [...before].filter(([flag]) => !after.has(flag)).map(([, fields]) => fields),
    notLookedAt: limitsOf(visit, all.world, all.here, all.isClockKnown),
  };
}
