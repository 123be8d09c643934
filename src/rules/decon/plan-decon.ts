import { DECON_HANDLING_RULES } from '../../catalog/decon/decon-handling-rules.ts';
import type { ContaminantClass, DeconGear } from '../../catalog/decon/decon-protocol.ts';
import { materialsNamed } from '../../catalog/materials/wetted-materials.ts';
import { listText } from '../flags/list-text.ts';
import { partsAgainstSuites } from '../pump-set-up/materials-for-suites.ts';
import { chooseProtocols } from './choose-protocols.ts';
import { classWritten } from './classes-of-suites.ts';
import type { DeconUnit, WellLeft, WellNamed, WellNext } from './decon-unit.ts';
import { type DeconEffort, deconEffort } from './effort.ts';
import { gearOfUnit, waterContact } from './gear-of-unit.ts';
import { adviseOnProtocols, type ProtocolAdvice } from './protocol-advice.ts';
import { requiredClasses } from './required-classes.ts';
import { type StepToDo, stepsToDo } from './steps-for-unit.ts';

export interface DeconAsked {
  readonly unit: DeconUnit;
  readonly left: WellLeft;
  readonly next: WellNext;
  /** Missing: wells are given by their names. */
  readonly named?: WellNamed | undefined;
  /** Protocols that the plan of the event names. */
  readonly planned?: readonly string[] | undefined;
  readonly acetoneIsAnalyte?: boolean | undefined;
  readonly isFreezing?: boolean | undefined;
}

export interface DeconPlan {
  readonly effort: DeconEffort;
  readonly classes: readonly ContaminantClass[];
  readonly protocols: readonly ProtocolAdvice[];
  readonly steps: readonly StepToDo[];
  /** Why a blank through the unit is proposed; null where nothing asks for one here. */
  readonly rinsateBecause: string | null;
  readonly reasons: readonly string[];
  readonly notKnown: readonly string[];
  readonly cautions: readonly string[];
  readonly sources: readonly string[];
}

export function isStainless({ wettedParts }: Pick<DeconUnit, 'wettedParts'>): boolean {
  return (wettedParts ?? []).some(({ material }) =>
    materialsNamed(material).some(({ name }) => name === 'stainless-steel-316'),
  );
}

function rinsateBecause(effort: DeconEffort, classes: readonly ContaminantClass[]): string | null {
  if (effort === 'none') return null;
  if (classes.includes('product')) return 'It is suspect after product until a blank through it passes.';
  if (classes.includes('pfas'))
    return 'For PFAS an equipment blank is taken each day for each pump (state guides on PFAS sampling, from memory).';
  return null;
}

function rulesBeside(asked: DeconAsked): string[] {
  const { freezing, wasteContained, deviation } = DECON_HANDLING_RULES;
  const rules = [...(asked.isFreezing ? [freezing] : []), wasteContained, deviation];
  return rules.map(({ wording, source }) => `${wording} (${source})`);
}

/** What cleaning does not mend: parts that do not suit PFAS at all, such as those of PTFE. */
function partsAgainst({ unit }: DeconAsked, classes: readonly ContaminantClass[]): string[] {
  return classes.includes('pfas') ? partsAgainstSuites(unit.wettedParts ?? [], ['pfas']) : [];
}

/** Materials decide between acids, and against parts for PFAS; a tape is wiped whatever it is made of. */
function materialsNotKnown(
  { wettedParts }: DeconUnit,
  gear: DeconGear,
  classes: readonly ContaminantClass[],
): readonly string[] {
  const matters = classes.includes('pfas') || ['downhole-pump', 'bladder-pump', 'hand-gear'].includes(gear);
  return matters && !wettedParts?.length ? ['Of what its wetted parts are made is not recorded.'] : [];
}

/**
 * How a unit is cleaned between the well it left and the next: effort, protocols with what speaks for and against each,
 * the steps to do, and what is not known. It proposes; the plan of the event and the person decide.
 */
export function planDecon(asked: DeconAsked): DeconPlan {
  const { unit, left, next, named } = asked;
  const required = requiredClasses(waterContact(unit.type), left, next, named);
  const { effort, isByProtocol, ...ofEffort } = deconEffort(unit, required.classes, left, next, named);
  const gear = gearOfUnit(unit.type);
  if (gear === null || !isByProtocol)
    return {
      effort,
      classes: [],
      protocols: [],
      steps: [],
      rinsateBecause: null,
      ...ofEffort,
      cautions: [],
      sources: [],
    };
  const planned = asked.planned ?? [];
  const { advised, uncovered } = chooseProtocols(gear, required.classes, planned);
  const given = { isStainless: isStainless(unit), acetoneIsAnalyte: asked.acetoneIsAnalyte ?? false };
  const steps = stepsToDo(advised, gear, given);
  return {
    effort,
    classes: required.classes,
    protocols: adviseOnProtocols({ gear, classes: required.classes, planned, advised, ...given }),
    steps,
    rinsateBecause: rinsateBecause(effort, required.classes),
    reasons: [
      ...ofEffort.reasons,
      ...required.reasons,
      ...partsAgainst(asked, required.classes),
      ...rulesBeside(asked),
    ],
    notKnown: [
      ...ofEffort.notKnown,
      ...required.notKnown,
      ...materialsNotKnown(unit, gear, required.classes),
      ...(uncovered.length > 0
        ? [`No protocol here serves it against ${listText(uncovered.map(classWritten))}: the plan must name one.`]
        : []),
    ],
    cautions: [...new Set(steps.flatMap(({ cautions }) => cautions))],
    sources: [...new Set(advised.map(({ source }) => source))],
  };
}
