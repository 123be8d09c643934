import { type DeconFluidId, deconFluid } from '../../catalog/decon/decon-fluids.ts';
import type { DeconGear, DeconProtocol, DeconProtocolId, DeconStep } from '../../catalog/decon/decon-protocol.ts';

/** What is known of the unit and the samples that narrows a choice of fluids. */
export interface StepGiven {
  readonly isStainless: boolean;
  /** Asked for in the samples, so that it must not be brought along. */
  readonly acetoneIsAnalyte: boolean;
}

/** A step as it is read out at the well. */
export interface StepToDo {
  readonly protocol: DeconProtocolId;
  readonly step: string;
  readonly action: string;
  /** Any one of these. */
  readonly fluids: readonly string[];
  readonly strength: string | null;
  readonly times: number;
  /** Null: always. */
  readonly when: string | null;
  readonly isWasteToDrum: boolean;
  readonly newPart: string | null;
  readonly cautions: readonly string[];
  readonly source: string;
  readonly verified: boolean;
}

/** The steps of a protocol that concern this gear. */
export function stepsForGear(protocol: DeconProtocol, gear: DeconGear): readonly DeconStep[] {
  return protocol.steps.filter((step) => step.onlyFor === undefined || step.onlyFor.includes(gear));
}

function unwanted(fluid: DeconFluidId, given: StepGiven): boolean {
  return (given.isStainless && fluid === 'nitric-acid') || (given.acetoneIsAnalyte && fluid === 'acetone');
}

/** The fluids of a step that suit; all of them where none would be left, as a step without its fluid is no step. */
export function fluidsOfStep(step: DeconStep, given: StepGiven): readonly DeconFluidId[] {
  const suiting = step.fluids.filter((fluid) => !unwanted(fluid, given));
  return suiting.length > 0 ? suiting : step.fluids;
}

export function stepToDo(protocol: DeconProtocol, step: DeconStep, given: StepGiven): StepToDo {
  const fluids = fluidsOfStep(step, given).map(deconFluid);
  const cautions = [step.caution ?? null, ...fluids.map(({ caution }) => caution)];
  return {
    protocol: protocol.id,
    step: step.id,
    action: step.action,
    fluids: fluids.map(({ written }) => written),
    strength: step.strength ? `${step.strength.figure.value} ${step.strength.unit}` : null,
    times: Number(step.leastTimes?.value ?? '1'),
    when: step.when ?? null,
    isWasteToDrum: step.makesWaste,
    newPart: step.change ?? null,
    cautions: [...new Set(cautions.filter((caution) => caution !== null))],
    source: step.source,
    verified: step.verified,
  };
}

/**
 * All steps of the protocols for a gear, in order; a soft part that several of them replace is replaced once, in the
 * last of them.
 */
export function stepsToDo(protocols: readonly DeconProtocol[], gear: DeconGear, given: StepGiven): readonly StepToDo[] {
  const steps = protocols.flatMap((protocol) =>
    stepsForGear(protocol, gear).map((step) => stepToDo(protocol, step, given)),
  );
  return steps.filter(
    ({ newPart }, index) => newPart === null || !steps.slice(index + 1).some((later) => later.newPart === newPart),
  );
}
