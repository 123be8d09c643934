import { kindNamed } from '../../protocol/kinds-by-name.ts';
import { unknownPlanOptions } from '../../protocol/unknown-plan-options.ts';
import { unitIds } from '../../rules/derive/bundle-of.ts';
import type { Overlay } from '../../rules/overlay.ts';
import type { VisitRecordsHere } from './records.ts';

export const NOT_LOOKED_AT = [
  'firm-not-here',
  'visit-not-here',
  'event-not-here',
  'well-not-here',
  'records-not-here',
  'feed-not-complete',
  'former-values',
  'clock',
] as const;

/** Something that the server will look at and that this device could not. */
export interface NotLookedAt {
  readonly what: (typeof NOT_LOOKED_AT)[number];
  readonly sentence: string;
  /** The records or feeds that are not here, where they are known by name. */
  readonly named: readonly string[];
}

/** What holds for every preview, whatever is here. */
const PREVIEW_CAUTIONS = [
  'What other devices recorded and this one has not pulled is not in it.',
  'Clashes between the claims of two crews, whether two crews purge one well, labels and numbers that are on two bottles, what is asked of bottles of no sample, and notes about the clock of a device are told by the server only.',
  'A server with another version of the rules may decide otherwise; its word is the one that is kept.',
] as const;

/** What has to be borne in mind of this preview: what holds for all, and a plan that says more than this app knows. */
export function cautionsOf(visit: string, world: Overlay): readonly string[] {
  const event = world.get(String(world.get(visit)?.state.fields.event));
  const unknown = event === undefined ? [] : unknownPlanOptions(event.state.fields.plan);
  if (unknown.length === 0) return PREVIEW_CAUTIONS;
  const what = `The plan of the event says what this app does not know (${unknown.join(', ')})`;
  return [...PREVIEW_CAUTIONS, `${what}: the server may judge by it and decide otherwise; update the app.`];
}

function limit(what: NotLookedAt['what'], sentence: string, named: readonly string[] = []): NotLookedAt {
  return { what, sentence, named };
}

/** Without these nothing can be derived at all. */
function missingRoots(visit: string, world: Overlay): NotLookedAt[] {
  const fields = world.get(visit)?.state.fields;
  if (!fields)
    return [limit('visit-not-here', 'This device does not hold the visit, so nothing can be said of it.', [visit])];
  const roots = [
    { what: 'event-not-here', id: String(fields.event), does: 'the event, whose plan names the criteria' },
    { what: 'well-not-here', id: String(fields.well), does: 'the well, which the visit is judged by' },
  ] as const;
  return roots
    .filter(({ id }) => !world.get(id))
    .map(({ what, id, does }) => limit(what, `This device does not hold ${does}, so nothing can be said here.`, [id]));
}

/** The units and measuring points that the records of the visit name. */
function missingNamed(visit: string, world: Overlay): NotLookedAt[] {
  const all = world.ofVisit(visit);
  const points = all.flatMap(({ state }) => state.fields.measuringPoint ?? []).map(String);
  const missing = [...new Set([...unitIds(all), ...points])].filter((id) => !world.get(id)).sort();
  if (missing.length === 0) return [];
  return [
    limit('records-not-here', 'Units or measuring points that the records name are not on this device.', missing),
  ];
}

/** A correction that was pulled: the server knows the value before it and lists what it would have raised. */
function correctedBefore({ ofVisit }: VisitRecordsHere): NotLookedAt[] {
  const corrected = ofVisit.filter(({ record: { kind, rev } }) => rev > 1 && kindNamed(kind)?.family !== 'derived');
  if (corrected.length === 0) return [];
  const sentence =
    'Values that were corrected before the last sync are not on this device; what they raised stands as the server said it last.';
  return [limit('former-values', sentence, corrected.map(({ record }) => record.id).sort())];
}

function incompleteFeeds(visit: string, world: Overlay, { feeds }: VisitRecordsHere): NotLookedAt[] {
  const well = world.get(String(world.get(visit)?.state.fields.well));
  const event = world.get(String(world.get(visit)?.state.fields.event));
  const wanted = ['firm', ...[well?.feed ?? [], event?.feed ?? []].flat()];
  const whole = new Set(feeds.filter((one) => one.complete).map((one) => one.feed));
  const missing = [...new Set(wanted)].filter((feed) => !whole.has(feed)).sort();
  if (missing.length === 0) return [];
  return [limit('feed-not-complete', 'This device has not pulled all of what the server looks at.', missing)];
}

/** What this device could not look at, said beside what follows from the rest. */
export function limitsOf(
  visit: string,
  world: Overlay,
  here: VisitRecordsHere,
  isClockKnown: boolean,
): readonly NotLookedAt[] {
  const firm = here.firm === null ? [limit('firm-not-here', 'The feed of the firm was not pulled yet.', ['firm'])] : [];
  const clock =
    'How far the clock of this device is off was not measured yet; times of other devices may fall otherwise.';
  return [
    ...firm,
    ...missingRoots(visit, world),
    ...missingNamed(visit, world),
    ...incompleteFeeds(visit, world, here),
    ...correctedBefore(here),
    ...(isClockKnown || here.pending.length === 0 ? [] : [limit('clock', clock)]),
  ];
}
