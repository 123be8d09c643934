import type { SuiteGroup } from '../../catalog/materials/suite-groups.ts';
import { PUMPING_RATE_RULES, type PumpingRateRule } from '../../catalog/well/pumping-rate-rules.ts';
import { compareText } from '../../science/units/decimal-arithmetic.ts';

export interface Rates {
  /** At which the well is purged. */
  readonly flowMlPerMin?: string | undefined;
  /** At which bottles are filled. */
  readonly fillingMlPerMin?: string | undefined;
  /** What is sampled; undefined: every rule is shown. */
  readonly suites?: readonly SuiteGroup[] | undefined;
}

/** `for-information`: for the start of a purge or for wells of low yield, so not for the rates that were given. */
export const RATE_FINDINGS = ['within', 'below', 'beyond', 'not-known', 'for-information'] as const;

export interface JudgedRate {
  readonly id: string;
  readonly of: PumpingRateRule['of'];
  readonly finding: (typeof RATE_FINDINGS)[number];
  readonly atLeastMlPerMin: string | null;
  /** The figure of the rule, or the rate of the purge where that is less. */
  readonly atMostMlPerMin: string | null;
  readonly because: string;
  readonly wording: string;
  readonly source: string;
  readonly verified: boolean;
}

function applies({ suites: only }: PumpingRateRule, suites: Rates['suites']): boolean {
  if (only === undefined || suites === undefined || suites.length === 0) return true;
  return only === 'volatiles' ? suites.includes('volatiles') : suites.some((suite) => suite !== 'volatiles');
}

function least(a: string | undefined, b: string | undefined): string | undefined {
  if (a === undefined || b === undefined) return a ?? b;
  return compareText(a, b) <= 0 ? a : b;
}

function mostOf(rule: PumpingRateRule, { flowMlPerMin }: Rates): string | undefined {
  return least(rule.atMost?.value, rule.atPurgeRate ? flowMlPerMin : undefined);
}

function compared(
  rule: PumpingRateRule,
  rate: string,
  most: string | undefined,
): Pick<JudgedRate, 'finding' | 'because'> {
  const about = rule.about ? 'about ' : '';
  const { value } = rule.atLeast ?? { value: undefined };
  if (value !== undefined && compareText(rate, value) < 0)
    return { finding: 'below', because: `${rate} mL/min is below ${value} mL/min: slower harms nothing.` };
  if (most === undefined) return { finding: 'not-known', because: 'It needs the rate at which the well was purged.' };
  const order = compareText(rate, most);
  if (order < 0 || (order === 0 && !rule.strictly))
    return { finding: 'within', because: `${rate} mL/min is within ${about}${most} mL/min.` };
  return { finding: 'beyond', because: `${rate} mL/min is beyond ${about}${most} mL/min.` };
}

const FOR_INFORMATION: Readonly<Partial<Record<PumpingRateRule['of'], string>>> = {
  starting: 'For the start of a purge.',
  'low-yield': 'For wells of low yield.',
};

function foundOf(
  rule: PumpingRateRule,
  rates: Rates,
  most: string | undefined,
): Pick<JudgedRate, 'finding' | 'because'> {
  const information = FOR_INFORMATION[rule.of];
  if (information !== undefined) return { finding: 'for-information', because: information };
  const rate = rule.of === 'filling' ? rates.fillingMlPerMin : rates.flowMlPerMin;
  if (rate === undefined) return { finding: 'not-known', because: 'No rate was given to hold against it.' };
  return compared(rule, rate, most);
}

function judgeRate(rule: PumpingRateRule, rates: Rates): JudgedRate {
  const { id, of, wording, source, verified } = rule;
  const most = mostOf(rule, rates);
  const found = foundOf(rule, rates, most);
  const figures = { atLeastMlPerMin: rule.atLeast?.value ?? null, atMostMlPerMin: most ?? null };
  return { id, of, ...found, ...figures, wording, source, verified };
}

/** Holds the rates of purging and filling against the published ones that apply to what is sampled. */
export function judgeRates(rates: Rates): JudgedRate[] {
  return PUMPING_RATE_RULES.filter((rule) => applies(rule, rates.suites)).map((rule) => judgeRate(rule, rates));
}

/** The rate of filling that no rule which applies speaks against; null where none has a figure. */
export function fillAtMost(judged: readonly JudgedRate[]): string | null {
  const figures = judged.flatMap(({ of, atMostMlPerMin }) =>
    of === 'filling' && atMostMlPerMin !== null ? [atMostMlPerMin] : [],
  );
  return figures.toSorted(compareText)[0] ?? null;
}
