import type { DeconStep } from '../../catalog/decon/decon-protocol.ts';
import { instantMs } from '../../science/instant-ms.ts';
import type { DeconStepRecord } from './decon-record.ts';

/** A step of the protocol with everything that was recorded of it. */
export interface RecordedStep {
  readonly step: DeconStep;
  /** In the order in which they were done, whatever the order of arrival. */
  readonly done: readonly DeconStepRecord[];
  readonly leftOut: readonly DeconStepRecord[];
}

function byTime(a: DeconStepRecord, b: DeconStepRecord): number {
  return instantMs(a.observed.at) - instantMs(b.observed.at) || (a.id < b.id ? -1 : 1);
}

export function recordedSteps(
  steps: readonly DeconStep[],
  records: readonly DeconStepRecord[],
): readonly RecordedStep[] {
  return steps.map((step) => {
    const its = records.filter((record) => record.step === step.id).toSorted(byTime);
    return { step, done: its.filter(({ done }) => done), leftOut: its.filter(({ done }) => !done) };
  });
}

/** The reasons that were given with a step, each once. */
export function reasonOf(records: readonly DeconStepRecord[]): string | null {
  const reasons = records.flatMap(({ reason }) => (reason ? [reason] : []));
  return reasons.length > 0 ? [...new Set(reasons)].join('; ') : null;
}

/** "detergent wash": a step by its id, as it is named in sentences. */
export function stepName({ id }: DeconStep): string {
  return id.replaceAll('-', ' ');
}

/** The time of day of an instant, as entered. */
export function timeOfDay(at: string): string {
  return at.slice(11, 16);
}
