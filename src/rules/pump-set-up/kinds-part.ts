import type { SuiteGroup } from '../../catalog/materials/suite-groups.ts';
import { PUMP_KIND_LIST, type PumpKind, type PumpKindName } from '../../catalog/pumps/pump-kinds.ts';
import { pumpClearanceIn } from '../../science/pump/pump-clearance.ts';
import { isRefusal } from '../../science/refusal.ts';
import { compareText } from '../../science/units/decimal-arithmetic.ts';
import type { PlanInput, UnitAtHand } from './plan-input.ts';
import type { SuctionFields } from './suction-part.ts';

export interface KindAnswer {
  readonly kind: PumpKindName;
  readonly serves: 'yes' | 'with-conditions' | 'no';
  readonly reasons: readonly string[];
}

interface Findings {
  readonly against: readonly string[];
  readonly conditions: readonly string[];
}

const NOTHING: Findings = { against: [], conditions: [] };
const against = (...reasons: string[]): Findings => ({ against: reasons, conditions: [] });
const onlyIf = (...conditions: string[]): Findings => ({ against: [], conditions });

function bySuction(kind: PumpKind, suction: SuctionFields, groups: readonly SuiteGroup[]): Findings {
  if (kind.lifts !== 'by-suction') return NOTHING;
  const { suctionLiftFt, suctionServes, suctionLimits } = suction;
  const beyond = suctionLimits.filter((one) => !one.passes).map((one) => `${one.limitFt} ft (${one.source})`);
  const lift =
    beyond.length > 0
      ? [`A lift of ${suctionLiftFt} ft from the pumping level is not within ${beyond.join(', nor ')}.`]
      : suctionServes
        ? []
        : ['No practical lift is known at this altitude.'];
  const volatile = groups.includes('volatiles')
    ? [`Suction draws volatiles out of the water: rated poor for them (${kind.forVolatiles.source}).`]
    : [];
  return against(...lift, ...volatile);
}

/** Why one pump does not serve; undefined where it does. What is not recorded of it is a condition, not a reason. */
function whyNotThis(unit: UnitAtHand, given: PlanInput, intakeFt: string): string | undefined {
  const { label, outsideDiameterIn, maximumDepthFt } = unit;
  if (outsideDiameterIn !== undefined) {
    const left = pumpClearanceIn(given.casingInsideDiameterIn, outsideDiameterIn);
    if (isRefusal(left)) return `${label}: ${left.refused}`;
    if (compareText(left, '0') <= 0)
      return `${label} of ${outsideDiameterIn} in does not go into a casing of ${given.casingInsideDiameterIn} in inside.`;
  }
  return maximumDepthFt !== undefined && compareText(intakeFt, maximumDepthFt) > 0
    ? `${label} goes to ${maximumDepthFt} ft at most, and the intake hangs at ${intakeFt} ft.`
    : undefined;
}

function unrecorded({ label, outsideDiameterIn, maximumDepthFt }: UnitAtHand): string[] {
  return [
    ...(outsideDiameterIn === undefined ? [`Record the diameter of ${label} and compare it with the casing.`] : []),
    ...(maximumDepthFt === undefined ? [`Record the greatest depth of ${label} and compare it with the intake.`] : []),
  ];
}

/** With pumps at hand, one that fits is enough; without, the kind serves on condition that one is found. */
function byFit(kind: PumpKind, given: PlanInput, intakeFt: string): Findings {
  if (kind.downhole === 'tubing-only') return NOTHING;
  const pumps = (given.units ?? []).filter((unit) => unit.part === 'pump' && unit.pumpKind === kind.name);
  if (pumps.length === 0) {
    const { smallestCasing, written } = kind;
    const narrow =
      smallestCasing !== null && compareText(given.casingInsideDiameterIn, smallestCasing.insideDiameterIn) < 0
        ? [`The casing is narrower than ${smallestCasing.insideDiameterIn} in (${smallestCasing.source}).`]
        : [];
    return onlyIf(
      ...narrow,
      `No ${written} is named: one thinner than ${given.casingInsideDiameterIn} in that goes to ${intakeFt} ft.`,
    );
  }
  const judged = pumps.map((unit) => ({ unit, why: whyNotThis(unit, given, intakeFt) }));
  const fitting = judged.filter((one) => one.why === undefined).map((one) => one.unit);
  if (fitting.length === 0) return against(...judged.map((one) => one.why).filter((one) => one !== undefined));
  const recorded = fitting.some((unit) => unrecorded(unit).length === 0);
  return recorded ? NOTHING : onlyIf(...fitting.flatMap(unrecorded));
}

const AWAY = 'no compressor, battery or unrated meter near the casing';

/** Product or vapour: nothing that can spark near the casing. Gas from a cylinder leaves the rest of the set-up open. */
function byVapour(kind: PumpKind, { productOrVapour, driveGasFrom }: PlanInput): Findings {
  if (!productOrVapour) return NOTHING;
  if (kind.drivenBy !== 'compressed-gas')
    return against(`Product or vapour: ${AWAY}, and this kind has an electric motor in or at the well.`);
  if (driveGasFrom === 'compressor') return against(`Product or vapour: ${AWAY}; its gas would be from a compressor.`);
  const gas = driveGasFrom === undefined ? 'gas from a cylinder, and ' : '';
  return onlyIf(`Product or vapour: ${gas}${AWAY}, only as the site safety plan and licensed practice allow.`);
}

function why(kind: PumpKind, suction: SuctionFields, groups: readonly SuiteGroup[]): string[] {
  const { rating, source } = kind.forVolatiles;
  if (kind.lifts === 'by-suction') return [`A lift of ${suction.suctionLiftFt} ft is within every limit.`];
  const volatile = groups.includes('volatiles') ? [`It is rated ${rating} for volatiles (${source}).`] : [];
  return ['It pushes the water up, so that no suction limit applies.', ...volatile];
}

/** Every kind of pump: whether it serves in this well, and why or why not. */
export function kindsFor(
  given: PlanInput,
  intakeFt: string,
  suction: SuctionFields,
  groups: readonly SuiteGroup[],
): readonly KindAnswer[] {
  return PUMP_KIND_LIST.map((kind) => {
    const findings = [bySuction(kind, suction, groups), byFit(kind, given, intakeFt), byVapour(kind, given)];
    const reasons = findings.flatMap((one) => one.against);
    if (reasons.length > 0) return { kind: kind.name, serves: 'no', reasons };
    const conditions = findings.flatMap((one) => one.conditions);
    const serves = conditions.length > 0 ? 'with-conditions' : 'yes';
    return { kind: kind.name, serves, reasons: [...why(kind, suction, groups), ...conditions] };
  });
}
