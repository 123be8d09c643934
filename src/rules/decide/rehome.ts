import type { Fields } from '../../protocol/read-mutation.ts';
import type { Held, World } from '../held.ts';
import { changeRecord } from './change-record.ts';
import { type Change, type Decision, isTaken, refuse, setAside } from './decision.ts';
import { measuringPointAt } from './measuring-point-at.ts';
import { mergeFields } from './merge-fields.ts';
import type { Request } from './request.ts';

/**
 * A visit recorded under the wrong well (or event) goes to the right one, and everything under it goes along in the
 * same step and for the same reason: each level cites the measuring point of the right well, and where the event
 * changes every record leaves the old feed for the new one.
 */
export function decideRehome(request: Request, held: Held, world: World): Decision {
  const { kind, fields, mutation } = request.read;
  if (kind.name !== 'visit') return refuse('not_rehomable', `a ${kind.name} moves with its visit`, '/kind');
  if (mutation.reason === undefined) return setAside('reason_missing', 're-homing a visit needs a reason');
  const to = Object.keys(fields);
  if (to.length === 0 || to.some((field) => field !== 'well' && field !== 'event')) {
    return refuse('nothing_to_change', 'rehome sets well, event or both, and nothing else', '/set');
  }
  const taken = mergeFields(request, held, fields, request.seen);
  const moved = taken.changes.map((change) => move(change, held, feedOf(fields, held, world)));
  return isTaken(taken) ? { ...taken, changes: [...moved, ...followers(request, held, world)] } : taken;
}

function feedOf(fields: Fields, held: Held, world: World): { feed: string; parent: string | null } {
  const event = typeof fields.event === 'string' ? world.get(fields.event) : undefined;
  return event ? { feed: event.feed, parent: event.state.id } : { feed: held.feed, parent: held.parent };
}

function move(change: Change, from: Held, to: { feed: string; parent?: string | null }): Change {
  const leaves = to.feed === from.feed ? null : from.feed;
  return { ...change, held: { ...change.held, ...to }, leaves };
}

/** What goes along: everything if the feed changes, otherwise what cites the old well. */
function followers(request: Request, visit: Held, world: World): Change[] {
  const { fields } = request.read;
  const { feed } = feedOf(fields, visit, world);
  return world.ofVisit(visit.state.id).flatMap((held) => {
    const set = citesWell(held) && typeof fields.well === 'string' ? newPoint(held, fields.well, world) : {};
    if (held.feed === feed && Object.keys(set).length === 0) return [];
    if (held.state.client === null) return [];
    const seen = { rev: held.state.rev };
    const change = changeRecord(request, held, { seen, set, keepsFormer: true });
    return [move(change, held, { feed })];
  });
}

function citesWell(held: Held): boolean {
  return held.state.fields.measuringPoint !== undefined;
}

function newPoint(held: Held, well: string, world: World): Fields {
  const observed = held.state.fields.observed as { at: string } | undefined;
  const points = world.under(well).filter((point) => point.state.kind === 'measuring-point');
  const point = observed ? measuringPointAt(points, observed.at) : undefined;
  return { measuringPoint: point?.state.id ?? null };
}
