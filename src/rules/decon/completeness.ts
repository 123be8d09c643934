import type { ContaminantClass, DeconProtocol } from '../../catalog/decon/decon-protocol.ts';
import { deconProtocol } from '../../catalog/decon/decon-protocols.ts';
import { instantMs } from '../../science/instant-ms.ts';
import { listText } from '../flags/list-text.ts';
import { classWritten, inClassOrder } from './classes-of-suites.ts';
import type { DeconRecord, DeconStepRecord, PartChangeRecord, SoftPart } from './decon-record.ts';
import { type DeconFinding, finding, notExcused } from './finding.ts';
import { type DeconUnitType, gearOfUnit, gearWritten, waterContact } from './gear-of-unit.ts';
import type { PartsGiven } from './new-part.ts';
import { type RecordedStep, recordedSteps, timeOfDay } from './recorded-step.ts';
import { stepFindings } from './step-findings.ts';
import { orderFindings } from './step-order.ts';
import { stepsForGear } from './steps-for-unit.ts';

export const DECON_STANDINGS = [
  'complete',
  'complete-with-deviation',
  'under-way',
  'incomplete',
  'cannot-tell',
] as const;

export interface DeconToJudge {
  readonly decon: DeconRecord;
  readonly unitType: DeconUnitType;
  /** In any order; those of other decontaminations do no harm. */
  readonly steps: readonly DeconStepRecord[];
  readonly parts?: readonly SoftPart[] | undefined;
  /** Of the unit, in any order, the earlier ones as well: a part that was in use before is not new. */
  readonly partChanges?: readonly PartChangeRecord[] | undefined;
  /** When the unit went into its next well; new parts may be put in until then. */
  readonly nextUse?: string | undefined;
  /** Types of parts whose lots the plan asks for; "fluid" for those of the fluids. */
  readonly lotsRequired?: readonly string[] | undefined;
}

export interface DeconCompleteness {
  readonly standing: (typeof DECON_STANDINGS)[number];
  /**
   * Whether the unit is clean by it: ended, made for its gear, every step that cleans done, parts replaced. A reason
   * excuses another fluid, another order and a step that does not clean. A lot or a drum that is not written down leaves
   * the record incomplete and the unit clean.
   */
  readonly isClean: boolean;
  readonly findings: readonly DeconFinding[];
  /** Classes that the record names and the protocol does not serve against. */
  readonly notServed: readonly ContaminantClass[];
  readonly sentence: string;
  readonly cautions: readonly string[];
}

function timeFindings({ began, ended }: DeconRecord): DeconFinding[] {
  if (!ended || instantMs(ended) >= instantMs(began)) return [];
  const sentence = `It is recorded as ended at ${timeOfDay(ended)}, before it began at ${timeOfDay(began)}.`;
  return [finding('time', null, 'record', sentence)];
}

function wasteFindings(recorded: readonly RecordedStep[], { wasteTo }: DeconRecord): DeconFinding[] {
  const wet = recorded.filter(({ step, done }) => step.makesWaste && done.length > 0);
  if (wet.length === 0 || wasteTo) return [];
  return [finding('waste', null, 'record', 'Into which drum its water went is not recorded.')];
}

/** A pump is not cleaned by what wipes a tape. Of what has no kind of gear by its type, any protocol may be meant. */
function gearFindings(protocol: DeconProtocol, type: DeconUnitType): DeconFinding[] {
  const gear = waterContact(type) === 'unknown' ? null : gearOfUnit(type);
  if (gear === null || protocol.gear.includes(gear)) return [];
  return [notExcused('gear', null, `The protocol is not made for ${gearWritten(gear)}.`)];
}

function cautionsOf(
  { decon, steps }: DeconToJudge,
  protocol: DeconProtocol,
  notServed: readonly ContaminantClass[],
): string[] {
  const ids = new Set(protocol.steps.map(({ id }) => id));
  const strange = steps.filter((step) => step.decon === decon.id && !ids.has(step.step)).map(({ step }) => step);
  const outside = steps.some(({ decon: of, observed }) => {
    const at = instantMs(observed.at);
    const late = decon.ended ? at > instantMs(decon.ended) : false;
    return of === decon.id && (at < instantMs(decon.began) || late);
  });
  return [
    ...(notServed.length > 0
      ? [`The protocol does not serve against ${listText(notServed.map(classWritten))}: another cleaning is owed.`]
      : []),
    ...[...new Set(strange)].toSorted().map((step) => `"${step}" is no step of this protocol and is not counted.`),
    ...(outside ? ['A step is recorded for before the beginning or after the end: look at the clocks.'] : []),
    ...(protocol.verified ? [] : ['Not every step of the protocol was read in its document.']),
  ];
}

/** A step that is asked for only at times is due once another of the same occasion was done: no solvent without its rinse. */
function isDue({ step }: RecordedStep, all: readonly RecordedStep[]): boolean {
  return step.when === undefined || all.some((other) => other.step.when === step.when && other.done.length > 0);
}

function standingOf(decon: DeconRecord, findings: readonly DeconFinding[]): DeconCompleteness['standing'] {
  if (!decon.ended) return 'under-way';
  if (findings.some(({ isDeviation }) => !isDeviation)) return 'incomplete';
  return findings.length > 0 ? 'complete-with-deviation' : 'complete';
}

function sentenceOf(standing: DeconCompleteness['standing'], findings: readonly DeconFinding[], title: string): string {
  const open = findings.filter(({ isDeviation }) => !isDeviation).length;
  if (standing === 'under-way' && open === 0) return `By "${title}": every step is recorded, the end is not.`;
  if (standing === 'under-way') return `By "${title}": not ended; ${open} still open.`;
  if (standing === 'incomplete') return `By "${title}": incomplete, ${open} open.`;
  if (standing === 'complete') return `By "${title}": complete.`;
  return `By "${title}": complete, with ${findings.length === 1 ? 'a deviation' : `${findings.length} deviations`} for a reason.`;
}

function unknownProtocol({ protocol }: DeconRecord): DeconCompleteness {
  const sentence = `The catalog of this release holds no protocol "${protocol}": whether the record is complete cannot be told.`;
  return { standing: 'cannot-tell', isClean: false, findings: [], notServed: [], sentence, cautions: [] };
}

/**
 * Whether a decontamination is complete by its protocol. The order in which its records arrive makes no difference; the
 * order in which the steps were done does.
 *
 * Sources: the protocol cited, and that a deviation is allowed and recorded with why (US EPA Region 4,
 * LSASDPROC-205-R4, 22 Jun 2020, p. 1, read in a copy).
 */
export function deconCompleteness(given: DeconToJudge): DeconCompleteness {
  const { decon } = given;
  const protocol = deconProtocol(decon.protocol);
  if (protocol === undefined) return unknownProtocol(decon);
  const gear = gearOfUnit(given.unitType) ?? 'hand-gear';
  const its = given.steps.filter((step) => step.decon === decon.id);
  const recorded = recordedSteps(stepsForGear(protocol, gear), its);
  const parts: PartsGiven = {
    decon,
    parts: given.parts ?? [],
    changes: given.partChanges ?? [],
    nextUse: given.nextUse,
    lotsRequired: given.lotsRequired ?? [],
  };
  const findings = [
    ...gearFindings(protocol, given.unitType),
    ...timeFindings(decon),
    ...recorded.flatMap((one) => stepFindings(one, isDue(one, recorded), parts)),
    ...orderFindings(recorded),
    ...wasteFindings(recorded, decon),
  ];
  const notServed = inClassOrder(decon.against ?? []).filter((one) => !protocol.against.includes(one));
  const standing = standingOf(decon, findings);
  const isDirty = findings.some(({ concerns, isDeviation }) => concerns === 'cleaning' && !isDeviation);
  return {
    standing,
    isClean: Boolean(decon.ended) && !isDirty,
    findings,
    notServed,
    sentence: sentenceOf(standing, findings, protocol.title),
    cautions: cautionsOf(given, protocol, notServed),
  };
}
