import { deconFluid, fluidsNamed } from '../../catalog/decon/decon-fluids.ts';
import { isCleaningStep } from './cleaning-step.ts';
import type { DeconStepRecord } from './decon-record.ts';
import { type DeconFinding, finding, notExcused } from './finding.ts';
import type { PartsGiven } from './new-part.ts';
import { partFindings } from './part-findings.ts';
import { type RecordedStep, reasonOf, stepName } from './recorded-step.ts';

function isFluidOf({ step }: RecordedStep, text: string): boolean {
  const namedFluids = fluidsNamed(text);
  return (
    namedFluids.length === 0 ||
    namedFluids.some(({ id, insteadOf }) => step.fluids.some((asked) => asked === id || insteadOf.includes(asked)))
  );
}

function otherFluid(recorded: RecordedStep, { fluid, reason }: DeconStepRecord): DeconFinding[] {
  if (!fluid || isFluidOf(recorded, fluid)) return [];
  const asked = recorded.step.fluids.map((id) => deconFluid(id).written).join(' or ');
  const sentence = `The step "${stepName(recorded.step)}" was done with ${fluid}; the protocol asks for ${asked}.`;
  return [finding('fluid', recorded.step.id, 'cleaning', sentence, reason)];
}

function fluidFindings(recorded: RecordedStep, lotsRequired: readonly string[]): DeconFinding[] {
  const { step, done } = recorded;
  if (step.fluids.length === 0) return [];
  const others = done.flatMap((record) => otherFluid(recorded, record));
  // one that was done as asked makes good for one that was not
  const isDoneAsAsked = done.some((record) => record.fluid && otherFluid(recorded, record).length === 0);
  const notNamed = done.every(({ fluid }) => !fluid)
    ? [finding('fluid', step.id, 'record', `With what the step "${stepName(step)}" was done is not named.`)]
    : [];
  const noLot =
    lotsRequired.includes('fluid') && done.every(({ lot }) => !lot)
      ? [finding('lot', step.id, 'record', `The plan asks for the lot of the fluid of "${stepName(step)}".`)]
      : [];
  return [...(isDoneAsAsked ? [] : others), ...notNamed, ...noLot];
}

function leftOut({ step, leftOut }: RecordedStep): DeconFinding {
  const name = stepName(step);
  if (leftOut.length === 0) return finding('step', step.id, 'cleaning', `The step "${name}" is not recorded.`);
  const reason = reasonOf(leftOut);
  const sentence = `The step "${name}" was left out${reason ? '.' : ' and no reason is given.'}`;
  if (isCleaningStep(step)) return notExcused('step', step.id, sentence, reason);
  return finding('step', step.id, 'cleaning', sentence, reason);
}

/** What is to be said of one step, if it is due. */
export function stepFindings(recorded: RecordedStep, isDue: boolean, given: PartsGiven): readonly DeconFinding[] {
  const { step, done } = recorded;
  if (done.length === 0 && !isDue) return [];
  if (step.change) return partFindings(recorded, step.change, given);
  return done.length > 0 ? fluidFindings(recorded, given.lotsRequired) : [leftOut(recorded)];
}
