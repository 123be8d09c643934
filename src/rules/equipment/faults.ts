import { canonicalEvidence, cutText } from '../flags/evidence.ts';
import type { Addressee, Evidence, Severity } from '../flags/raised-flag.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from './faults/equipment-rule.ts';
import { deconIncompleteAtNextUse } from './faults/rules/decon-incomplete-at-next-use.ts';
import { deconNotForClass } from './faults/rules/decon-not-for-class.ts';
import { deconWaterWithoutDrum } from './faults/rules/decon-water-without-drum.ts';
import { dirtyToClean } from './faults/rules/dirty-to-clean.ts';
import { discardedPartUsedAgain } from './faults/rules/discarded-part-used-again.ts';
import { disposableUsedAgain } from './faults/rules/disposable-used-again.ts';
import { driveGasWithWater } from './faults/rules/drive-gas-with-water.ts';
import { equipmentBlankFailed } from './faults/rules/equipment-blank-failed.ts';
import { fluoropolymerPartAtPfasWell } from './faults/rules/fluoropolymer-part-at-pfas-well.ts';
import { leachingTubingWithOrganics } from './faults/rules/leaching-tubing-with-organics.ts';
import { meterCheckAfterMissing } from './faults/rules/meter-check-after-missing.ts';
import { meterCheckFailed } from './faults/rules/meter-check-failed.ts';
import { meterNotChecked } from './faults/rules/meter-not-checked.ts';
import { nitricAcidOnStainless } from './faults/rules/nitric-acid-on-stainless.ts';
import { partLotMissing } from './faults/rules/part-lot-missing.ts';
import { partOfAnotherWell } from './faults/rules/part-of-another-well.ts';
import { pumpBelowRatedDepth } from './faults/rules/pump-below-rated-depth.ts';
import { ratedPressureExceeded } from './faults/rules/rated-pressure-exceeded.ts';
import { rinsateMissing } from './faults/rules/rinsate-missing.ts';
import { serviceOverdue } from './faults/rules/service-overdue.ts';
import { softPartNotRenewed } from './faults/rules/soft-part-not-renewed.ts';
import { standardExpired } from './faults/rules/standard-expired.ts';
import { standardsNotAroundValue } from './faults/rules/standards-not-around-value.ts';
import { suctionPumpWithVolatiles } from './faults/rules/suction-pump-with-volatiles.ts';
import { tapeCheckOverdue } from './faults/rules/tape-check-overdue.ts';
import { tubingMovedBetweenWells } from './faults/rules/tubing-moved-between-wells.ts';
import { unitInTwoWells } from './faults/rules/unit-in-two-wells.ts';
import { unitLeftUncleaned } from './faults/rules/unit-left-uncleaned.ts';
import { unitNotKnownClean } from './faults/rules/unit-not-known-clean.ts';
import { unitOfAnotherCrew } from './faults/rules/unit-of-another-crew.ts';
import { unitOutOfService } from './faults/rules/unit-out-of-service.ts';
import { usedAfterFailedCheck } from './faults/rules/used-after-failed-check.ts';
import { usedUnitIntoWell } from './faults/rules/used-unit-into-well.ts';

/** Every rule about equipment that the sources support. */
export const EQUIPMENT_RULES: readonly EquipmentRule[] = [
  deconIncompleteAtNextUse,
  deconNotForClass,
  deconWaterWithoutDrum,
  dirtyToClean,
  discardedPartUsedAgain,
  disposableUsedAgain,
  driveGasWithWater,
  equipmentBlankFailed,
  fluoropolymerPartAtPfasWell,
  leachingTubingWithOrganics,
  meterCheckAfterMissing,
  meterCheckFailed,
  meterNotChecked,
  nitricAcidOnStainless,
  partLotMissing,
  partOfAnotherWell,
  pumpBelowRatedDepth,
  ratedPressureExceeded,
  rinsateMissing,
  serviceOverdue,
  softPartNotRenewed,
  standardExpired,
  standardsNotAroundValue,
  suctionPumpWithVolatiles,
  tapeCheckOverdue,
  tubingMovedBetweenWells,
  unitInTwoWells,
  unitLeftUncleaned,
  unitNotKnownClean,
  unitOfAnotherCrew,
  unitOutOfService,
  usedAfterFailedCheck,
  usedUnitIntoWell,
];

/** The most characters that the sentence of a flag may have. */
const LONGEST_SENTENCE = 1_000;
const DOUBT = ' The clocks leave it open: it is possible, not certain.';

/** What is asked about equipment. (code, subject, of) is its identity. */
export interface EquipmentFinding {
  readonly code: string;
  readonly severity: Severity;
  readonly addressee: Addressee;
  readonly certainty: 'certain' | 'possible';
  readonly subjectKind: string;
  readonly subject: string;
  /** What tells it from another of the same code and subject: a unit, a part, a day, an analyte. */
  readonly of: string;
  readonly visit: string | null;
  /** Whose records tell it: findings of one unit follow from what it, its parts and their other units met. */
  readonly unit: string;
  readonly sentence: string;
  readonly source: string;
  readonly verified: boolean;
  readonly evidence: readonly Evidence[];
}

/** What the crew could mend at the well it can no longer mend there once it has left; a doubt does not stop its work. */
function addresseeOf(rule: EquipmentRule, fault: EquipmentFault, { index }: Pick<EquipmentFacts, 'index'>): Addressee {
  if (fault.addressee) return fault.addressee;
  const left = fault.visit === undefined ? null : (index.visits.get(fault.visit)?.left ?? null);
  const isLate = left !== null || Boolean(fault.isPossible);
  return rule.addressee === 'now' && isLate ? 'tonight' : rule.addressee;
}

/** A tape or a meter that went on unclean is told at the truck: what it carries is little. */
function isLight({ index }: Pick<EquipmentFacts, 'index'>, fault: EquipmentFault): boolean {
  const contacts = index.lines.get(fault.unit)?.contacts ?? [];
  const its = contacts.filter(({ visit }) => visit === fault.visit);
  return its.length > 0 && its.every(({ how }) => how !== 'down-the-well');
}

function findingOf(rule: EquipmentRule, fault: EquipmentFault, facts: EquipmentFacts): EquipmentFinding {
  const tail = fault.isPossible ? DOUBT : '';
  const asRule = addresseeOf(rule, fault, facts);
  const light = isLight(facts, fault);
  return {
    code: rule.code,
    severity: light && rule.severity === 'caution' ? 'note' : rule.severity,
    addressee: light && asRule === 'now' ? 'tonight' : asRule,
    certainty: fault.isPossible ? 'possible' : 'certain',
    subjectKind: fault.subjectKind,
    subject: fault.subject,
    of: fault.of,
    visit: fault.visit ?? null,
    unit: fault.unit,
    sentence: cutText(fault.sentence, LONGEST_SENTENCE - tail.length) + tail,
    source: rule.source,
    verified: rule.verified,
    evidence: canonicalEvidence(fault.evidence),
  };
}

function compareFindings(a: EquipmentFinding, b: EquipmentFinding): number {
  const [one, other] = [a, b].map(({ code, subject, of }) => `${code} ${subject} ${of}`) as [string, string];
  return one < other ? -1 : one > other ? 1 : 0;
}

function onceEach(findings: readonly EquipmentFinding[]): readonly EquipmentFinding[] {
  return findings.filter((one, at) => {
    const before = findings[at - 1];
    return before === undefined || compareFindings(before, one) !== 0;
  });
}

/** Everything that is to be asked about equipment by its records, in one order; one cause is told once. */
export function equipmentFindings(facts: EquipmentFacts): readonly EquipmentFinding[] {
  const found = EQUIPMENT_RULES.flatMap((rule) => rule.evaluate(facts).map((fault) => findingOf(rule, fault, facts)));
  return onceEach(found.toSorted(compareFindings));
}
