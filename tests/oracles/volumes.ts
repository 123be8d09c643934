import type { ByIntake, CriteriaSet, DrawnVolume, VolumeKind } from '../../src/catalog/criteria-set.ts';
import type { StabilizationPlan } from '../../src/protocol/event-plan.ts';
import type { AssessmentInput } from '../../src/rules/assessment/assessment-input.ts';
import type { Axis } from './axis.ts';
import { compare, exact, plus } from './exact.ts';
import type { Walked } from './interruptions.ts';

/** What is known of the well and of what hangs in it, once a purge. */
export interface Ground {
  readonly staticFt: string | null;
  readonly casingIn: number | null;
  readonly tubingMl: number | null;
  readonly setUp: Axis['setUps'][number]['record'] | undefined;
  /** Of the cell behind a meter, or of the set-up. */
  cellMl(meter: string | null | undefined): string | null;
  /** A depth of the well below the measuring point. */
  depth(name: 'totalDepthFt' | 'screenTopFt' | 'screenBottomFt'): string | null;
}

const number = (text: string | null | undefined) => (text == null ? null : Number(text));

/** pi / 4 d^2 l, in inches of 2.54 cm and feet of 30.48 cm. */
export function cylinderMl(diameterIn: number, lengthFt: number): number {
  return (Math.PI / 4) * (diameterIn * 2.54) ** 2 * (lengthFt * 30.48);
}

/** Rule A18: the last set-up placed at or before the latest reading, else the first. */
function setUpOf(axis: Axis) {
  const latest = axis.readings.at(-1)?.at ?? Number.POSITIVE_INFINITY;
  return (axis.setUps.findLast(({ at }) => at <= latest) ?? axis.setUps[0])?.record;
}

/** Rule A19. */
function staticLevel(axis: Axis): string | null {
  const first = axis.readings[0]?.at ?? Number.POSITIVE_INFINITY;
  for (const purpose of ['before-purge', 'synoptic']) {
    const levels = axis.levels.filter(
      ({ record }) => record.fields.purpose === purpose && record.fields.depthToWaterFt != null,
    );
    const level = levels.findLast(({ at }) => at <= first) ?? levels[0];
    if (level) return level.record.fields.depthToWaterFt ?? null;
  }
  return null;
}

function depthText(input: AssessmentInput, name: 'totalDepthFt' | 'screenTopFt' | 'screenBottomFt'): string | null {
  const fields = input.well?.fields;
  const depth = fields?.[name];
  if (fields === undefined || depth == null) return null;
  if (fields.depthsFrom === 'measuring-point') return depth;
  if (fields.stickUpFt == null) return null;
  const { over, under } = plus(exact(depth), exact(fields.stickUpFt));
  return String(Number(over) / Number(under));
}

export function groundOf(input: AssessmentInput, axis: Axis): Ground {
  const setUp = setUpOf(axis);
  const [bore, length] = [number(setUp?.fields.tubingInsideDiameterIn), number(setUp?.fields.tubingLengthFt)];
  const cellOf = (unit: string | null | undefined) =>
    unit == null ? null : (input.units.get(unit)?.fields.flowCellVolumeMl ?? null);
  return {
    staticFt: staticLevel(axis),
    casingIn: number(input.well?.fields.casingInsideDiameterIn),
    tubingMl: bore === null || length === null ? null : cylinderMl(bore, length),
    setUp,
    cellMl: (meter) => setUp?.fields.flowCellVolumeMl ?? cellOf(setUp?.fields.flowCell) ?? cellOf(meter),
    depth: (name) => depthText(input, name),
  };
}

/** Rule A20: what had been drawn by each reading, in millilitres; null where nothing is known. */
export function drawnOf(axis: Axis, walked: Walked): readonly (number | null)[] {
  const stops = axis.occurrences.filter(({ record }) => /^pump-(?:stopped|restarted)$/.test(record.fields.type));
  const drawn: (number | null)[] = [];
  for (const [at, reading] of axis.readings.entries()) {
    const before = axis.readings[at - 1];
    const stood = stops.some(({ order }) => before !== undefined && order > before.order && order < reading.order);
    const flow = walked.flowAfter[at] ?? null;
    const last = drawn[at - 1] ?? null;
    const minutes = before === undefined ? 0 : (reading.at - before.at) / 60_000;
    if (reading.record.fields.purgedMl != null) drawn.push(Number(reading.record.fields.purgedMl));
    else if (stood) drawn.push(last ?? 0);
    else if (flow === null) drawn.push(last);
    else drawn.push((last ?? 0) + (Number(flow.over) / Number(flow.under)) * minutes);
  }
  return drawn;
}

/** A volume that is asked for: nothing, so many millilitres, or one that is not known. */
export type Asked = { readonly is: 'nothing' | 'not-known' } | { readonly is: 'volume'; readonly ml: number };

function isInsideSubmergedScreen(ground: Ground): boolean | null {
  const depths = [
    ground.staticFt,
    ground.depth('screenTopFt'),
    ground.setUp?.fields.intakeDepthFt ?? null,
    ground.depth('screenBottomFt'),
  ];
  if (depths.includes(null)) return null;
  const numbers = depths.map(Number);
  return numbers.every((depth, at) => at === 0 || (numbers[at - 1] ?? 0) <= depth);
}

/** Rule A21: the water that stands in the casing; null where it is not known, or nothing stands there. */
export function wellVolumeMl(ground: Ground): number | null {
  const [bottom, water] = [number(ground.depth('totalDepthFt')), number(ground.staticFt)];
  if (bottom === null || water === null || ground.casingIn === null || bottom <= water) return null;
  return cylinderMl(ground.casingIn, bottom - water);
}

function volumeMl(kind: VolumeKind, ground: Ground, plan: StabilizationPlan, meter: string | null | undefined) {
  if (kind === 'well-volume' || kind === 'casing-volume') return wellVolumeMl(ground);
  if (plan.pumpVolumeMl == null || ground.tubingMl === null) return null;
  const pumpAndTubing = Number(plan.pumpVolumeMl) + ground.tubingMl;
  if (kind === 'pump-and-tubing-volume') return pumpAndTubing;
  const cell = ground.cellMl(meter);
  return cell === null ? null : pumpAndTubing + Number(cell);
}

function ruleOf(rule: DrawnVolume | ByIntake | undefined, ground: Ground): DrawnVolume | null | undefined {
  if (rule === undefined) return null;
  if ('times' in rule) return rule;
  if (rule.insideSubmergedScreen === null && rule.elsewhere === null) return null;
  const inside = isInsideSubmergedScreen(ground);
  if (inside === null) return undefined;
  return inside ? rule.insideSubmergedScreen : rule.elsewhere;
}

/** Rule A21: what must be drawn, by the plan or else the set. */
export function askedVolume(
  which: 'beforeFirstReading' | 'betweenReadings',
  set: CriteriaSet,
  plan: StabilizationPlan,
  ground: Ground,
  latestMeter: string | null | undefined,
): Asked {
  const ofPlan = plan[which];
  const rule = ofPlan ? null : ruleOf(set[which], ground);
  if (rule === undefined) return { is: 'not-known' };
  const [factor, kind] = ofPlan ? [ofPlan.amount, ofPlan.of] : [rule?.times.value, rule?.of];
  if (factor === undefined || kind === undefined || compare(exact(factor), exact('0')) === 0) return { is: 'nothing' };
  const ml = volumeMl(kind, ground, plan, latestMeter);
  if (ml === null) return { is: 'not-known' };
  return { is: 'volume', ml: Number(factor) * ml * (1 - Number(plan.volumeGracePercent ?? '5') / 100) };
}
