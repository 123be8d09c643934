import type { ByIntake, DrawnVolume, Figure, LimitKind, PurgeLimit } from '../../catalog/criteria-set.ts';
import type { StabilizationPlan } from '../../protocol/event-plan.ts';

/** A limit after which the crew chooses, of the plan or of the set. */
export interface Limit {
  readonly of: LimitKind;
  readonly at: Figure;
  readonly from: 'plan' | 'set';
}

/** A figure that the plan of the event gives: it is what it says it is. */
export function planFigure(value: string): Figure {
  return { value, verified: true, status: 'seen', source: "the event's plan" };
}

/** The volume that the plan asks for, none where it asks for an amount of 0, else that of the set. */
export function volumeOf(
  given: StabilizationPlan['beforeFirstReading'],
  ofSet: DrawnVolume | ByIntake | undefined,
): DrawnVolume | ByIntake | null {
  if (given == null) return ofSet ?? null;
  return Number(given.amount) === 0 ? null : { times: planFigure(given.amount), of: given.of };
}

/** The limits of a plan take the place of all those of the set: an empty list of them means none. */
export function limitsOf(given: StabilizationPlan['limits'], ofSet: readonly PurgeLimit[] = []): readonly Limit[] {
  if (given == null) return ofSet.map(({ of, at }) => ({ of, at, from: 'set' }));
  const all: readonly (readonly [LimitKind, string | number | null | undefined])[] = [
    ['minutes', given.minutes],
    ['readings', given.readings],
    ['well-volumes', given.wellVolumes],
  ];
  return all.flatMap(([of, at]) => (at == null ? [] : [{ of, at: planFigure(String(at)), from: 'plan' as const }]));
}
