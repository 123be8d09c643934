import type { VisitBundle } from '../../visit-bundle.ts';
import { inObservedOrder, observedMs } from './observed-order.ts';

type SetUp = VisitBundle['setUps'][number];

/**
 * The set-up in force at a moment: the latest one by then. A set-up that was noted after pumping began still tells
 * how the pump hung, so before the first one the first one counts.
 */
export function setUpAt(bundle: VisitBundle, atMs: number): SetUp | undefined {
  const ordered = inObservedOrder(bundle.setUps);
  return ordered.findLast((one) => observedMs(one) <= atMs) ?? ordered[0];
}

export interface Intake {
  readonly setUp: SetUp;
  /** Below the measuring point, as entered. */
  readonly depthFt: string;
}

/** Where the intake hung at a moment; unknown once it was moved without a new set-up that says where to. */
export function intakeAt(bundle: VisitBundle, atMs: number): Intake | undefined {
  const setUp = setUpAt(bundle, atMs);
  if (setUp?.fields.intakeDepthFt === undefined) return undefined;
  const moved = bundle.purges.some((purge) =>
    purge.occurrences.some(
      (one) => one.fields.type === 'intake-moved' && observedMs(one) > observedMs(setUp) && observedMs(one) <= atMs,
    ),
  );
  return moved ? undefined : { setUp, depthFt: setUp.fields.intakeDepthFt };
}
