import type { Fields } from '../../protocol/read-mutation.ts';
import type { Held } from '../held.ts';
import { VOIDED } from '../merge/merge-memory.ts';
import { rivals, type Seen } from '../merge/register.ts';
import { changeRecord } from './change-record.ts';
import type { Taken } from './decision.ts';
import { type Request, seenRevOf } from './request.ts';

/** An edit by someone who did not know of a void says that the record still counts: a rival of the void. */
function againstVoid(request: Request, held: Held, seen: Seen | null): Fields {
  const voiding = held.memory?.registers[VOIDED]?.at(-1);
  if (held.state.voided === null || !voiding) return {};
  const own = voiding.client === request.writer.client;
  const known = (voiding.shown[0] ?? 0) <= seenRevOf(seen);
  return own || known ? {} : { [VOIDED]: false };
}

/** Somebody else changed the record, elsewhere, since the revision seen. */
function hasMovedOn(request: Request, held: Held, seen: Seen | null): boolean {
  return held.state.rev > seenRevOf(seen) && held.state.client !== request.writer.client;
}

/**
 * Merges the fields set into a record, field by field. What the writer had seen is superseded, what it had not seen
 * is kept beside it as a conflict.
 */
export function mergeFields(request: Request, held: Held, given: Fields, seen: Seen | null): Taken {
  const set = { ...given, ...againstVoid(request, held, seen) };
  const keepsFormer = request.read.kind.family === 'observation';
  const changed = changeRecord(request, held, { seen, set, keepsFormer });
  const registers = changed.held.memory?.registers ?? {};
  const clash = Object.keys(set).some((field) => rivals(registers[field] ?? []).length > 0);
  const quiet = hasMovedOn(request, held, seen) ? 'merged' : 'applied';
  return { outcome: clash ? 'conflict_kept' : quiet, changes: [changed], seenRev: seenRevOf(seen) };
}
