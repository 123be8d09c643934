import { instantMs } from '../../science/instant-ms.ts';
import { isRefusal } from '../../science/refusal.ts';
import type { ReceivingCalendar } from '../../science/samples/receiving-calendar.ts';
import { type ShipBy, shipBy } from '../../science/samples/ship-by.ts';
import { type ContainerClock, type ContainerClocks, isFieldClock } from '../samples/deadlines/container-clocks.ts';

/** The way to a laboratory. */
export interface Way {
  readonly calendar: ReceivingCalendar;
  readonly transitMinutes: number;
  readonly backlogMinutes: number;
}

export interface Leaving {
  /** When the cooler leaves, at the earliest: now, or when it left. */
  readonly at: string;
  readonly isUnderWay: boolean;
  /** When it leaves if it does not leave today. */
  readonly later: string;
  /** When it is received if it leaves at the earliest. */
  readonly receivedAt: string;
  /** When it is received if it leaves later; of what is under way, the same. */
  readonly laterReceivedAt: string;
}

export const LEAVING_STANDINGS = ['too-late', 'must-leave-today', 'may-wait', 'under-way'] as const;

/** The clock of a container by which it has to leave the earliest. */
export interface LeavingClock extends ShipBy {
  readonly of: ContainerClocks;
  readonly clock: ContainerClock;
  readonly dueAt: string;
  readonly standing: (typeof LEAVING_STANDINGS)[number];
}

function standingOf(leaveBy: string, { at, later, isUnderWay }: Leaving): LeavingClock['standing'] {
  const ms = instantMs(leaveBy);
  if (ms < instantMs(at)) return 'too-late';
  if (isUnderWay) return 'under-way';
  return ms < instantMs(later) ? 'must-leave-today' : 'may-wait';
}

/** Asked of thousands of bottles, of which many are due at the same instant. */
function rememberShipBy(way: Way): (dueAt: string) => ShipBy | null {
  const known = new Map<string, ShipBy | null>();
  return (dueAt) => {
    const before = known.get(dueAt);
    if (before !== undefined) return before;
    const found = shipBy(
      { dueAt, transitMinutes: way.transitMinutes, backlogMinutes: way.backlogMinutes },
      way.calendar,
    );
    const told = isRefusal(found) ? null : found;
    known.set(dueAt, told);
    return told;
  };
}

/**
 * By when each container has to leave, the earliest first; one whose clocks have not begun, are over or can
 * wait is not in the answer.
 * Of the clocks of a container the one counts that asks for the earliest departure; what ends at the well does not.
 *
 * Source: arithmetic; the latest shipment is the earliest deadline less what the laboratory needs, back to when it last
 * receives, less transit.
 */
export function leavingClocks(
  containers: readonly ContainerClocks[],
  way: Way,
  leaving: Leaving,
): readonly LeavingClock[] {
  const leaveBy = rememberShipBy(way);
  // what is in time if it is received then may wait: nobody has to search the calendar for it
  const waitsFromMs = instantMs(leaving.laterReceivedAt) + way.backlogMinutes * 60_000;
  const found = containers.flatMap((of): readonly LeavingClock[] => {
    const running = of.clocks.flatMap((clock) => {
      const { dueAt, state } = clock;
      const told =
        dueAt === null || state !== 'running' || isFieldClock(clock) || instantMs(dueAt) >= waitsFromMs
          ? null
          : leaveBy(dueAt);
      return told && dueAt !== null ? [{ of, clock, dueAt, ...told, standing: standingOf(told.leaveBy, leaving) }] : [];
    });
    return earliestFirst(running).slice(0, 1);
  });
  return earliestFirst(found);
}

function earliestFirst(clocks: readonly LeavingClock[]): readonly LeavingClock[] {
  return clocks.toSorted(
    (a, b) => instantMs(a.leaveBy) - instantMs(b.leaveBy) || instantMs(a.dueAt) - instantMs(b.dueAt),
  );
}
