import type { TimedState } from '../../rules/equipment/unit-state.ts';
import type { TimelineEntry } from '../../rules/equipment/unit-timeline.ts';

/** What the picture of the life of a unit is drawn from. */
export interface TimelineFacts {
  readonly label: string;
  /** In words, "bladder pump". */
  readonly type: string;
  readonly states: readonly TimedState[];
  readonly entries: readonly TimelineEntry[];
  /** Of wells, crews and parts, by their ids. */
  readonly names: ReadonlyMap<string, string>;
  /** Of the site, "America/Chicago"; the axis and every time are told in it. */
  readonly timeZone: string;
  /** Days of the calendar there, "2026-05-04", the last one whole; missing: all of its life. */
  readonly from?: string | undefined;
  readonly until?: string | undefined;
}

export function nameIn({ names }: Pick<TimelineFacts, 'names'>, id: string): string {
  return names.get(id) ?? id;
}
