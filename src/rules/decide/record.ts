import { withArticle } from '../../protocol/field-words.ts';
import type { Fields } from '../../protocol/read-mutation.ts';
import type { Held, World } from '../held.ts';
import { noteReadable } from '../readable.ts';
import { type Decision, setAside } from './decision.ts';
import { placeOf } from './home.ts';
import { mergeFields } from './merge-fields.ts';
import { personOf, type Request } from './request.ts';

/** Missing and null are one: an unknown is not written down. */
export function withoutNulls(fields: Fields): Fields {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== null && value !== undefined));
}

/** The first record under an id, or a rival of one that another device made under the same id. */
export function decideRecord(request: Request, world: World): Decision {
  const { mutation, kind, fields } = request.read;
  const rival = world.get(mutation.id);
  const place = placeOf(kind, mutation.id, fields, world);
  if (rival) return decideRival(request, rival, place.parent);
  const state = {
    kind: kind.name,
    id: mutation.id,
    rev: 1,
    voided: null,
    by: personOf(request),
    client: request.writer.client,
    mutation: mutation.mutationId,
    reason: mutation.reason ?? null,
    clock: request.clock,
    fields: withoutNulls(fields),
  };
  noteReadable(state);
  return {
    outcome: 'applied',
    changes: [{ held: { state, ...place, memory: null }, leaves: null, intent: null }],
    seenRev: 1,
  };
}

function decideRival(request: Request, held: Held, parent: string | null): Decision {
  const { mutation, kind } = request.read;
  if (held.state.kind !== kind.name || held.parent !== parent) {
    return setAside('id_taken', `${mutation.id} is already ${withArticle(held.state.kind)} elsewhere`);
  }
  return mergeFields(request, held, withoutNulls(request.read.fields), { rev: 0 });
}
