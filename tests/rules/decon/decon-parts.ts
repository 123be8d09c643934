import { deconProtocol } from '../../../src/catalog/decon/decon-protocols.ts';
import { type DeconToJudge, deconCompleteness } from '../../../src/rules/decon/completeness.ts';
import type {
  DeconRecord,
  DeconStepRecord,
  PartChangeRecord,
  SoftPart,
} from '../../../src/rules/decon/decon-record.ts';
import { stepsForGear } from '../../../src/rules/decon/steps-for-unit.ts';

/** A time of one day, such as '10:05'. */
export function at(time: string): string {
  return `2026-05-04T${time}:00-05:00`;
}

export const DECON: DeconRecord = {
  id: 'decon 1',
  unit: 'pump 2',
  protocol: 'bladder-pump-new-parts',
  against: ['organics'],
  began: at('10:00'),
  ended: at('11:00'),
  wasteTo: 'drum 1',
};

export const PARTS: readonly SoftPart[] = [
  { id: 'bladder 7', type: 'bladder', label: 'Bladder 7', lot: 'B-100' },
  { id: 'tubing 9', type: 'tubing', label: 'Tubing 9' },
];

const PUT_IN: Readonly<Record<string, string>> = { bladder: 'bladder 7', tubing: 'tubing 9', 'support-line': 'line 3' };

/** Every step of the protocol, done in order a minute apart from 10:01, as it should be. */
export function allSteps(protocol: string = DECON.protocol): DeconStepRecord[] {
  const found = deconProtocol(protocol);
  if (!found) throw new Error(`no protocol ${protocol}`);
  return stepsForGear(found, 'bladder-pump')
    .filter(({ when }) => when === undefined)
    .map(({ id, fluids, change }, index) => ({
      id: `record of ${id}`,
      decon: DECON.id,
      step: id,
      done: true,
      fluid: fluids[0]?.replaceAll('-', ' ') ?? null,
      part: change ? PUT_IN[change] : null,
      observed: { at: at(`10:${String(index + 1).padStart(2, '0')}`) },
    }));
}

/** The same with one step otherwise; undefined takes its record away. */
export function stepsWith(step: string, otherwise: Partial<DeconStepRecord> | undefined): DeconStepRecord[] {
  return allSteps().flatMap((one) => {
    if (one.step !== step) return [one];
    return otherwise === undefined ? [] : [{ ...one, ...otherwise }];
  });
}

export function change(
  part: string,
  action: PartChangeRecord['action'],
  time: string,
  more: Partial<PartChangeRecord> = {},
): PartChangeRecord {
  return { id: `${part} ${action} ${time}`, unit: 'pump 2', part, action, observed: { at: at(time) }, ...more };
}

export function judge(steps: readonly DeconStepRecord[], more: Partial<DeconToJudge> = {}) {
  return deconCompleteness({ decon: DECON, unitType: 'bladder-pump', steps, parts: PARTS, ...more });
}
