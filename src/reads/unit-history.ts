import { resultsNeeded } from '../rules/equipment-told/results-needed.ts';
import { type UnitSpanTold, unitSpansTold } from '../rules/equipment-told/unit-state-told.ts';
import { seenEntries, type TimelineEntryTold, timelineEntryTold } from '../rules/equipment-told/unit-timeline-told.ts';
import { type UnitTrailGiven, type UnitTrailTold, unitTrailTold } from '../rules/equipment-told/unit-trail-told.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { withResults } from './equipment-results-of.ts';
import { type ToldPage, type ToldPageGiven, toldPage } from './told-page.ts';
import { sightOf, type UnitEquipment } from './unit-equipment.ts';

type Feeds = readonly string[] | null;

/** Every state that a unit went through, the present one first. The states of units are the firm's. */
export function unitSpans({ facts, names }: UnitEquipment, unit: string, given: ToldPageGiven): ToldPage<UnitSpanTold> {
  const spans = unitSpansTold(facts.index, unit, names);
  return toldPage('unit-states', spans, ({ since, because }) => `${since} ${because.record}`, given);
}

export interface UnitTimelinePage extends ToldPage<TimelineEntryTold> {
  readonly outOfSight: number;
}

/** What happened to a unit, the latest first, as far as the reader follows the events. */
export function unitEntries(
  { facts, names }: UnitEquipment,
  feeds: Feeds,
  unit: string,
  given: ToldPageGiven,
): UnitTimelinePage {
  const { entries, outOfSight } = seenEntries(facts.index, unit, sightOf(feeds));
  const latestFirst = entries.toReversed();
  const page = toldPage('unit-timeline', latestFirst, ({ what, record, from }) => `${what} ${record} ${from}`, given);
  return { items: page.items.map((entry) => timelineEntryTold(entry, names)), next: page.next, outOfSight };
}

/** Everything that a unit touched. Results are read of those samples alone that may have been reached by other water. */
export async function unitTrail(
  tx: ReadTx,
  feeds: Feeds,
  { facts, names }: UnitEquipment,
  unit: string,
  given: UnitTrailGiven,
): Promise<UnitTrailTold> {
  const needed = resultsNeeded(facts.index, [{ kind: 'unit', id: unit }]);
  const index = await withResults(tx, facts.index, needed, null);
  const told = unitTrailTold(index, unit, given, { names, sight: sightOf(feeds) });
  return told ?? noTrail(unit, names.unit(unit));
}

function noTrail(unit: string, label: string | null): UnitTrailTold {
  const lists = { wells: [], decons: [], parts: [], rinsates: [], samples: [], carriedOver: [] };
  return { unit, label, ...lists, outOfSight: 0, leftOut: 0 };
}
