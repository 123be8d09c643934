import { withArticle } from '../../protocol/field-words.ts';
import type { Held } from '../held.ts';
import { knowsVoid } from '../merge/knows-void.ts';
import { haveRivals, VOIDED } from '../merge/merge-memory.ts';
import { wholeRevOf } from '../merge/seen.ts';
import { changeRecord } from './change-record.ts';
import { type Decision, setAside } from './decision.ts';
import type { Request } from './request.ts';

/**
 * Takes a record out of the count without taking it away: it stays readable, with the reason. Voiding again what one
 * knows to be void says nothing new.
 */
export function decideVoid(request: Request, held: Held): Decision {
  const { mutation, kind } = request.read;
  if (mutation.reason === undefined)
    return setAside('reason_missing', `voiding ${withArticle(kind.name)} needs a reason`);
  const { seen } = request;
  const set = knowsVoid(held.memory, request.writer.client, seen) ? {} : { [VOIDED]: true };
  const changed = changeRecord(request, held, { seen, set, keepsFormer: false });
  const clash = haveRivals(changed.held.memory, [VOIDED]);
  return { outcome: clash ? 'conflict_kept' : 'applied', changes: [changed], seenRev: wholeRevOf(seen) };
}
