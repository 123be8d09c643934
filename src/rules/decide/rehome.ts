import { withArticle } from '../../protocol/field-words.ts';
import type { Held, World } from '../held.ts';
import { type Decision, refuse, setAside } from './decision.ts';
import { mergeFields } from './merge-fields.ts';
import { moveVisit } from './move-visit.ts';
import type { Request } from './request.ts';

/**
 * A visit recorded under the wrong well (or event) goes to the right one, and everything under it goes along in the
 * same step and for the same reason.
 */
export function decideRehome(request: Request, held: Held, world: World): Decision {
  const { kind, fields, mutation } = request.read;
  if (kind.name !== 'visit') return refuse('not_rehomable', `${withArticle(kind.name)} moves with its visit`, '/kind');
  if (mutation.reason === undefined) return setAside('reason_missing', 're-homing a visit needs a reason');
  const to = Object.keys(fields);
  if (to.length === 0 || to.some((field) => field !== 'well' && field !== 'event')) {
    return refuse('nothing_to_change', 'rehome sets well, event or both, and nothing else', '/set');
  }
  const taken = mergeFields(request, held, fields, request.seen);
  const changes = taken.changes.flatMap((change) => {
    const place = Object.fromEntries(to.map((field) => [field, change.held.state.fields[field]]));
    return moveVisit(request, held, change, place, world);
  });
  return { ...taken, changes };
}
