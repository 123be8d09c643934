import type { KindDefinition } from './kind.ts';
import { analyteSuite } from './kinds/analyte-suite.ts';
import { assessment } from './kinds/assessment.ts';
import { assignment } from './kinds/assignment.ts';
import { blank } from './kinds/blank.ts';
import { calibrationCheck } from './kinds/calibration-check.ts';
import { call } from './kinds/call.ts';
import { conflict } from './kinds/conflict.ts';
import { container } from './kinds/container.ts';
import { cooler } from './kinds/cooler.ts';
import { coolerCheck } from './kinds/cooler-check.ts';
import { crew } from './kinds/crew.ts';
import { decon } from './kinds/decon.ts';
import { deconStep } from './kinds/decon-step.ts';
import { device } from './kinds/device.ts';
import { discrepancy } from './kinds/discrepancy.ts';
import { event } from './kinds/event.ts';
import { fill } from './kinds/fill.ts';
import { firm } from './kinds/firm.ts';
import { flag } from './kinds/flag.ts';
import { flagReview } from './kinds/flag-review.ts';
import { handOver } from './kinds/hand-over.ts';
import { kitCheck } from './kinds/kit-check.ts';
import { laboratory } from './kinds/laboratory.ts';
import { laboratoryResult } from './kinds/laboratory-result.ts';
import { measuringPoint } from './kinds/measuring-point.ts';
import { member } from './kinds/member.ts';
import { nest } from './kinds/nest.ts';
import { occurrence } from './kinds/occurrence.ts';
import { part } from './kinds/part.ts';
import { partChange } from './kinds/part-change.ts';
import { plannedSample } from './kinds/planned-sample.ts';
import { pumpSetUp } from './kinds/pump-set-up.ts';
import { purge } from './kinds/purge.ts';
import { reading } from './kinds/reading.ts';
import { resolution } from './kinds/resolution.ts';
import { sample } from './kinds/sample.ts';
import { sampleReceipt } from './kinds/sample-receipt.ts';
import { seal } from './kinds/seal.ts';
import { signOut } from './kinds/sign-out.ts';
import { site } from './kinds/site.ts';
import { sounding } from './kinds/sounding.ts';
import { unit } from './kinds/unit.ts';
import { unitService } from './kinds/unit-service.ts';
import { unitState } from './kinds/unit-state.ts';
import { unitUse } from './kinds/unit-use.ts';
import { visit } from './kinds/visit.ts';
import { visitSummary } from './kinds/visit-summary.ts';
import { waterLevel } from './kinds/water-level.ts';
import { well } from './kinds/well.ts';
import { wellAlias } from './kinds/well-alias.ts';
import { wellClaim } from './kinds/well-claim.ts';

/** Every kind, parents before the records that name them: the order in which tables are written. */
export const KINDS: readonly KindDefinition[] = [
  firm,
  member,
  crew,
  device,
  site,
  nest,
  well,
  wellAlias,
  measuringPoint,
  unit,
  part,
  laboratory,
  analyteSuite,
  event,
  assignment,
  signOut,
  wellClaim,
  partChange,
  decon,
  deconStep,
  unitService,
  calibrationCheck,
  kitCheck,
  plannedSample,
  visit,
  unitUse,
  sounding,
  waterLevel,
  pumpSetUp,
  purge,
  occurrence,
  reading,
  call,
  sample,
  blank,
  laboratoryResult,
  cooler,
  seal,
  handOver,
  coolerCheck,
  container,
  fill,
  sampleReceipt,
  discrepancy,
  unitState,
  assessment,
  visitSummary,
  conflict,
  resolution,
  flag,
  flagReview,
] as unknown as readonly KindDefinition[];

const byName = new Map(KINDS.map((kind) => [kind.name, kind]));
const byPlural = new Map(KINDS.map((kind) => [kind.plural, kind]));

export function kindNamed(name: string): KindDefinition | undefined {
  return byName.get(name);
}

export function kindOfPlural(plural: string): KindDefinition | undefined {
  return byPlural.get(plural);
}
