import { withArticle } from '../../protocol/field-words.ts';
import { mayNameOtherParent } from '../../protocol/kind.ts';
import type { Held, World } from '../held.ts';
import { type Decision, type NotTaken, refuse, setAside } from './decision.ts';
import { placeOf } from './home.ts';
import { mergeFields } from './merge-fields.ts';
import type { Request } from './request.ts';

/** A correction of what was observed says why; a fact changes as the world does. */
export function reasonMissing(request: Request): NotTaken | null {
  const { kind, mutation } = request.read;
  if (kind.family !== 'observation' || mutation.reason !== undefined) return null;
  return setAside('reason_missing', `a correction of ${withArticle(kind.name)} needs a reason`);
}

/** Where a record lives is not amended, unless it is a leaf that stays in its feed (a reading in the wrong purge). */
function leavesHome(request: Request, held: Held, world: World): NotTaken | null {
  const { kind, fields, mutation } = request.read;
  if (kind.name === 'visit' && 'well' in fields) {
    return refuse('home_fixed', 'a visit goes to another well by the verb rehome, with a reason', '/set/well');
  }
  if (kind.home.in !== 'parent') return null;
  const { field } = kind.home;
  if (!(field in fields) || fields[field] === held.parent) return null;
  const place =
    mayNameOtherParent(kind) && typeof fields[field] === 'string' ? placeOf(kind, mutation.id, fields, world) : null;
  if (place?.feed === held.feed) return null;
  return refuse(
    'home_fixed',
    `${field} says where ${withArticle(kind.name)} lives and is not amended`,
    `/set/${field}`,
  );
}

export function decideAmend(request: Request, held: Held, world: World): Decision {
  const { fields, kind } = request.read;
  if (Object.keys(fields).length === 0) return refuse('nothing_to_change', `no field of ${kind.name} in set`, '/set');
  const fault = reasonMissing(request) ?? leavesHome(request, held, world);
  if (fault) return fault;
  const taken = mergeFields(request, held, fields, request.seen);
  return { ...taken, changes: taken.changes.map((one) => ({ ...one, held: athome(one.held, held, request, world) })) };
}

/** The record where its fields say that it lives, which a late amendment may not have changed. */
function athome(changed: Held, before: Held, { read: { kind } }: Request, world: World): Held {
  const { home } = kind;
  if (home.in !== 'parent' || changed.state.fields[home.field] === before.parent) return changed;
  return { ...changed, ...placeOf(kind, changed.state.id, changed.state.fields, world) };
}
