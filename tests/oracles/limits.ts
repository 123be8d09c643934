import type { LimitKind } from '../../src/catalog/criteria-set.ts';
import type { Facts } from './conditions.ts';
import { wellVolumeMl } from './volumes.ts';

export interface LimitSeen {
  readonly of: LimitKind;
  readonly status: 'not-reached' | 'reached' | 'not-known';
  readonly reading: string | null;
  readonly choice: string | null;
}

function limitsOf({ plan, set }: Facts): readonly (readonly [LimitKind, number])[] {
  if (!plan.limits) return (set.limits ?? []).map(({ of, at }) => [of, Number(at.value)] as const);
  const { minutes, readings, wellVolumes } = plan.limits;
  const given = [
    ['minutes', minutes],
    ['readings', readings],
    ['well-volumes', wellVolumes],
  ] as const;
  return given.flatMap(([of, at]) => (at == null ? [] : [[of, Number(at)] as const]));
}

/** How much of a limit was used up at each reading; null where that is not known at the latest one. */
function used(facts: Facts, of: LimitKind): readonly number[] | null {
  const { axis, drawn, ground } = facts;
  if (of === 'readings') return axis.readings.map((_, at) => at + 1);
  if (of === 'minutes') return axis.readings.map(({ at }) => (at - (axis.readings[0]?.at ?? 0)) / 60_000);
  const volume = wellVolumeMl(ground);
  if (volume === null || drawn.at(-1) == null) return null;
  return drawn.map((ml) => (ml ?? 0) / volume);
}

/** Rule A25: the first call at or after the reading, else the last one before unless it said to purge on. */
function choiceOf({ axis }: Facts, order: number): string | null {
  const after = axis.calls.find((call) => call.order > order);
  if (after) return after.record.fields.decision;
  const before = axis.calls.findLast((call) => call.order < order)?.record.fields.decision;
  return before === undefined || before === 'purging-continued' ? null : before;
}

/** Rule A25, given at which readings the purge was stable. */
export function limitsSeen(facts: Facts, stable: readonly boolean[]): readonly LimitSeen[] {
  return limitsOf(facts).map(([of, limit]) => {
    const none = { reading: null, choice: null };
    const soFar = used(facts, of);
    if (soFar === null) return { of, status: 'not-known', ...none };
    const at = soFar.findIndex((amount) => amount >= limit);
    const reading = facts.axis.readings[at];
    const stableBefore = stable.slice(0, at + 1).includes(true);
    if (reading === undefined || stableBefore) return { of, status: 'not-reached', ...none };
    return { of, status: 'reached', reading: reading.record.id, choice: choiceOf(facts, reading.order) };
  });
}
