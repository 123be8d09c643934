import type { Held } from '../held.ts';
import { type Decision, isTaken, type NotTaken, setAside } from './decision.ts';

/** The end of the assignment with which a crew's right to write in an event ended. */
export interface Ended {
  readonly assignment: string;
  /** When the server took the change that ended it, in UTC. */
  readonly ended: string;
}

/**
 * What a crew may do in an event: it is assigned; it was, and its phone cannot have known that this ended when it
 * captured what it hands in; or neither.
 */
export type EventRight = 'assigned' | 'none' | Ended;

/** The right of whoever hands a mutation in, by the id of the event; null where it does not depend on assignments. */
export type RightIn = (event: string) => EventRight;

const EVENT = 'event:';

/** The events in whose feeds a change is made. */
function eventsIn(feeds: readonly (string | undefined)[]): string[] {
  return feeds.flatMap((feed) => (feed?.startsWith(EVENT) ? [feed.slice(EVENT.length)] : []));
}

function refusal(event: string): NotTaken {
  const why = `the crew of this device has no assignment in event ${event}, or none since the device last looked for news`;
  return setAside('right_missing', why);
}

/**
 * The right to write into these feeds.
 *
 * @returns null where it is there; how it ended, for one that is there only because the phone could not know; or why not
 */
export function rightInFeeds(rightIn: RightIn | null, feeds: readonly (string | undefined)[]): Ended | NotTaken | null {
  if (rightIn === null) return null;
  let late: Ended | null = null;
  for (const event of eventsIn(feeds)) {
    const right = rightIn(event);
    if (right === 'none') return refusal(event);
    if (right !== 'assigned') late ??= right;
  }
  return late;
}

function stamped(held: Held, afterAssignment: Ended): Held {
  return { ...held, state: { ...held.state, afterAssignment } };
}

/** The record that was written so says it from then on: a flag of its visit follows from that. */
export function withEnd(decision: Decision, late: Ended | null): Decision {
  if (late === null || !isTaken(decision)) return decision;
  const [first, ...others] = decision.changes;
  if (!first) return decision;
  return { ...decision, changes: [{ ...first, held: stamped(first.held, late) }, ...others] };
}
