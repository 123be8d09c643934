import type { Fields } from '../../protocol/read-mutation.ts';
import type { Held, World } from '../held.ts';
import { changeRecord } from './change-record.ts';
import type { Change } from './decision.ts';
import { measuringPointAt } from './measuring-point-at.ts';
import type { Request } from './request.ts';

function placeIn(to: Fields, visit: Held, world: World): Pick<Held, 'feed' | 'parent'> {
  const event = typeof to.event === 'string' ? world.get(to.event) : undefined;
  return event ? { feed: event.feed, parent: event.state.id } : { feed: visit.feed, parent: visit.parent };
}

function move(change: Change, from: Held, to: Partial<Pick<Held, 'feed' | 'parent'>>): Change {
  const leaves = to.feed === undefined || to.feed === from.feed ? null : from.feed;
  return { ...change, held: { ...change.held, ...to }, leaves };
}

/** The point of the right well for a record that cites one, if it is another than the one cited. */
function newPoint(held: Held, well: unknown, world: World): Fields {
  const cited = held.state.fields.measuringPoint;
  if (cited === undefined || typeof well !== 'string') return {};
  // whatever is recorded and cites a point was observed; a summary cites one too, but is derived anew
  const { at } = held.state.fields.observed as { at: string };
  const points = world.under(well).flatMap(({ state }) => (state.kind === 'measuring-point' ? [state] : []));
  const point = measuringPointAt(points, at)?.id;
  return point === cited ? {} : { measuringPoint: point ?? null };
}

/**
 * A visit that goes to another well or event, with everything under it: each level cites the measuring point of that
 * well, and where the event changes every record leaves the old feed for the new one. What is derived follows by itself.
 *
 * @param visit as it was before the change
 * @param to the well, event or both that it goes to
 */
export function moveVisit(request: Request, visit: Held, change: Change, to: Fields, world: World): Change[] {
  const place = placeIn(to, visit, world);
  const recorded = world.ofVisit(visit.state.id).filter((held) => held.state.client !== null);
  const followers = recorded.flatMap((held) => {
    const set = newPoint(held, to.well, world);
    if (held.feed === place.feed && Object.keys(set).length === 0) return [];
    const seen = { rev: held.state.rev };
    return [move(changeRecord(request, held, { seen, set, keepsFormer: true }), held, { feed: place.feed })];
  });
  return [move(change, visit, place), ...followers];
}
