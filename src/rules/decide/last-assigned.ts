import type { RecordState } from '../../protocol/record.ts';
import type { Ended } from './event-right.ts';

/** A record as it stood from a moment on. */
export interface Dated {
  readonly state: Pick<RecordState, 'id' | 'voided' | 'fields'>;
  /** When the server took it, in UTC. */
  readonly at: string;
}

interface Span {
  readonly from: number;
  readonly until: number;
  readonly ended: string | null;
}

/** The spans in which a record stood as `fits` asks, from its states in their order. */
function spans(states: readonly Dated[], fits: (state: Dated['state']) => boolean): Span[] {
  return states.flatMap((one, index): Span[] => {
    const next = states[index + 1];
    if (!fits(one.state)) return [];
    return [
      {
        from: Date.parse(one.at),
        until: next ? Date.parse(next.at) : Number.POSITIVE_INFINITY,
        ended: next?.at ?? null,
      },
    ];
  });
}

function overlap(one: Span, other: Span): Span | null {
  const [from, first] = [Math.max(one.from, other.from), one.until <= other.until ? one : other];
  return from <= first.until ? { ...first, from } : null;
}

/** The crews that a device ever belonged to. */
function crewsOf(device: readonly Dated[]): Set<unknown> {
  return new Set(device.map(({ state }) => state.fields.crew).filter((crew) => crew !== undefined));
}

/**
 * When a device was last of a crew that was assigned to an event, from the history of the device and that of each
 * assignment.
 *
 * @returns null where it never was, or still is
 */
export function lastAssigned(
  device: readonly Dated[],
  assignments: readonly (readonly Dated[])[],
  event: string,
): Ended | null {
  let last: (Ended & { readonly until: number }) | null = null;
  for (const crew of crewsOf(device)) {
    const member = spans(device, ({ fields }) => fields.crew === crew);
    for (const states of assignments) {
      const assigned = spans(states, ({ voided, fields }) => !voided && fields.crew === crew && fields.event === event);
      for (const one of member) {
        for (const other of assigned) {
          const both = overlap(one, other);
          if (!both?.ended || (last !== null && last.until >= both.until)) continue;
          last = { assignment: states[0]?.state.id ?? '', ended: both.ended, until: both.until };
        }
      }
    }
  }
  return last && { assignment: last.assignment, ended: last.ended };
}
