import type { DeconFluidId } from '../decon-fluids.ts';
import type { DeconStep } from '../decon-protocol.ts';

/** Where a step stands, and whether it was read there. */
export interface StepSource {
  readonly source: string;
  readonly verified: boolean;
}

export const COMMON_PRACTICE: StepSource = { source: 'common practice, no source', verified: false };

/** A step that does not know its place yet. */
export type UnplacedStep = Omit<DeconStep, 'place'>;

/** Steps in the order of their document. */
export function inOrder(...steps: readonly UnplacedStep[]): readonly DeconStep[] {
  return steps.map((step, index) => ({ ...step, place: index + 1 }));
}

/** A step with a fluid: what comes off goes into a drum. */
export function wet(
  id: string,
  action: string,
  fluids: readonly DeconFluidId[],
  where: StepSource,
  more: Partial<UnplacedStep> = {},
): UnplacedStep {
  return { id, action, fluids, makesWaste: true, ...where, ...more };
}

/** A step without a fluid, which leaves no water. */
export function dry(id: string, action: string, where: StepSource, more: Partial<UnplacedStep> = {}): UnplacedStep {
  return { id, action, fluids: [], makesWaste: false, ...where, ...more };
}
