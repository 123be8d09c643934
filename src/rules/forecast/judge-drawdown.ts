import type { DrawdownUnit } from '../../catalog/criteria-set.ts';
import { DRAWDOWN_RULES, type DrawdownRule } from '../../catalog/well/drawdown-rules.ts';
import { compareText, differenceText } from '../../science/units/decimal-arithmetic.ts';
import { compare, decimalFraction, dividedBy, type Fraction, fraction, times } from '../../science/units/fraction.ts';
import { textAtPlace } from '../../science/units/fraction-text.ts';

/** Depths below one measuring point. */
export interface PumpedWell {
  readonly staticDepthToWaterFt: string;
  readonly depthToWaterFt: string;
  readonly screenTopFt?: string | undefined;
  readonly screenBottomFt?: string | undefined;
  readonly intakeDepthFt?: string | undefined;
  readonly depthToBottomFt?: string | undefined;
  /** Whether the level no longer falls. */
  readonly steady?: boolean | undefined;
}

/** `tolerated`: beyond the limit, but steady, which the rule lets pass. */
export const DRAWDOWN_FINDINGS = ['within', 'tolerated', 'beyond', 'not-known'] as const;

export interface JudgedDrawdown {
  readonly id: string;
  readonly finding: (typeof DRAWDOWN_FINDINGS)[number];
  /** The limit in feet, rounded to a thousandth; null where the rule has none or it cannot be told. */
  readonly limitFt: string | null;
  readonly because: string;
  readonly wording: string;
  readonly source: string;
  readonly verified: boolean;
}

type Found = Pick<JudgedDrawdown, 'finding' | 'limitFt' | 'because'>;

/** A length between two depths of which the second is the deeper; null where one is not given, or there is none. */
function length(fromFt: string | undefined, toFt: string | undefined): Fraction | null {
  if (fromFt === undefined || toFt === undefined || compareText(toFt, fromFt) <= 0) return null;
  return decimalFraction(differenceText(toFt, fromFt));
}

/** What one unit of a limit is in feet, exactly: 1 m is 1/0.3048 ft, 1 % of 10 ft is 0.1 ft. */
function unitFt(measure: DrawdownUnit, well: PumpedWell): Fraction | null {
  const percent = (base: Fraction | null) => (base === null ? null : dividedBy(base, fraction(100n)));
  switch (measure) {
    case 'ft':
      return fraction(1n);
    case 'm':
      return dividedBy(fraction(1n), decimalFraction('0.3048'));
    case 'percent-of-screen-top-to-intake':
      return percent(length(well.screenTopFt, well.intakeDepthFt));
    case 'percent-of-screen-length':
      return percent(length(well.screenTopFt, well.screenBottomFt));
    case 'percent-of-water-column':
      return percent(length(well.staticDepthToWaterFt, well.depthToBottomFt));
  }
}

const NEEDED: Readonly<Record<DrawdownUnit, string>> = {
  ft: '',
  m: '',
  'percent-of-screen-top-to-intake': 'It needs the top of the screen and an intake below it.',
  'percent-of-screen-length': 'It needs the top and the bottom of the screen.',
  'percent-of-water-column': 'It needs the depth to the bottom.',
};

function notKnown(because: string): Found {
  return { finding: 'not-known', limitFt: null, because };
}

function byLimit(rule: DrawdownRule & LimitOf, well: PumpedWell, drawdownFt: string): Found {
  const unit = unitFt(rule.measure, well);
  if (unit === null) return notKnown(NEEDED[rule.measure]);
  const limit = times(decimalFraction(rule.limit.value), unit);
  const order = compare(decimalFraction(drawdownFt), limit);
  const within = rule.strictly ? order < 0 : order <= 0;
  const limitFt = textAtPlace(limit, -3);
  const [finding, side] = within ? (['within', 'within'] as const) : (['beyond', 'beyond'] as const);
  return { finding, limitFt, because: `${drawdownFt} ft is ${side} ${limitFt} ft.` };
}

function bySteadiness({ steady }: PumpedWell): Found {
  if (steady === undefined) return notKnown('It needs to be said whether the level is steady.');
  if (steady) return { finding: 'within', limitFt: null, because: 'The level is steady.' };
  return { finding: 'beyond', limitFt: null, because: 'The level is not steady.' };
}

function byLimitOrSteadiness(rule: DrawdownRule & LimitOf, well: PumpedWell, drawdownFt: string): Found {
  const found = byLimit(rule, well, drawdownFt);
  if (found.finding === 'within') return found;
  const steadiness = bySteadiness(well);
  const finding = steadiness.finding === 'within' ? 'tolerated' : steadiness.finding;
  return { finding, limitFt: found.limitFt, because: `${found.because} ${steadiness.because}` };
}

function above(depthFt: string | undefined, what: string, { depthToWaterFt }: PumpedWell): Found {
  if (depthFt === undefined) return notKnown(`It needs the depth of ${what}.`);
  const left = differenceText(depthFt, depthToWaterFt);
  if (compareText(left, '0') > 0)
    return { finding: 'within', limitFt: null, because: `The water is ${left} ft above ${what}.` };
  return {
    finding: 'beyond',
    limitFt: null,
    because: `Water at ${depthToWaterFt} ft has reached ${what} at ${depthFt} ft.`,
  };
}

function aboveScreen(well: PumpedWell): Found {
  const { screenTopFt, staticDepthToWaterFt } = well;
  if (screenTopFt !== undefined && compareText(staticDepthToWaterFt, screenTopFt) >= 0)
    return { finding: 'within', limitFt: null, because: 'The static level is in the screen: the rule does not apply.' };
  return above(screenTopFt, 'the top of the screen', well);
}

interface LimitOf {
  readonly limit: NonNullable<DrawdownRule['limit']>;
  readonly measure: DrawdownUnit;
}

function hasLimit(rule: DrawdownRule): rule is DrawdownRule & LimitOf {
  return rule.limit !== undefined;
}

function found(rule: DrawdownRule, well: PumpedWell, drawdownFt: string): Found {
  if (hasLimit(rule))
    return rule.asks === 'limit' ? byLimit(rule, well, drawdownFt) : byLimitOrSteadiness(rule, well, drawdownFt);
  if (rule.asks === 'steady') return bySteadiness(well);
  return rule.asks === 'above-intake' ? above(well.intakeDepthFt, 'the intake', well) : aboveScreen(well);
}

/** Holds a drawdown against every published rule, each in the unit of its document, exactly. */
export function judgeDrawdown(well: PumpedWell): JudgedDrawdown[] {
  const drawdownFt = differenceText(well.depthToWaterFt, well.staticDepthToWaterFt);
  return DRAWDOWN_RULES.map((rule) => {
    const { id, wording, source, verified } = rule;
    return { id, ...found(rule, well, drawdownFt), wording, source, verified };
  });
}
