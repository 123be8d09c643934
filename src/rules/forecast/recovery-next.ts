import type { RecoveryRule } from '../../catalog/well/recovery-rules.ts';
import { isRefusal } from '../../science/refusal.ts';
import { compareText } from '../../science/units/decimal-arithmetic.ts';
import { placesText } from '../../science/units/significant-text.ts';
import { reachesPercent } from '../../science/well/recovery.ts';
import {
  enoughWater,
  minutesUntil,
  RECOVERY_MEANINGS,
  type RecoveringWell,
  type RecoveryMeaning,
  recoveryShares,
} from './recovery-facts.ts';

/** `open`: the rule cannot say without what `because` names. `out-of-time`: its hours are over. */
export const NEXT_STEPS = ['sample-now', 'may-sample', 'wait', 'record-as-dry', 'out-of-time', 'open'] as const;
export type NextStep = (typeof NEXT_STEPS)[number];

export interface RecoveryNext {
  readonly next: NextStep;
  /** Minutes from now until it is lawful to sample or to record as dry, whichever comes first; null where unknown. */
  readonly waitMin: string | null;
  readonly because: string;
}

interface Case {
  readonly rule: RecoveryRule;
  readonly well: RecoveringWell;
  /** Of what the plan takes the percentage to be; undefined where it does not say. */
  readonly meaning: RecoveryMeaning | undefined;
}

function step(next: NextStep, because: string): RecoveryNext {
  return { next, waitMin: null, because };
}

/** Whole minutes, rounded up; what binary numbers leave over of one does not count. */
function upText(minutes: number): string {
  return placesText(Math.ceil(minutes - 1e-6), 0);
}

/** Minutes until so many hours after pumping stopped; null where nobody said when it stopped. */
function untilH(hours: string | null, { sinceStoppedH }: RecoveringWell): number | null {
  return hours === null || sinceStoppedH === undefined ? null : 60 * (Number(hours) - Number(sinceStoppedH));
}

/** Whether so many hours have passed; null where the rule has no such time or nobody said when pumping stopped. */
function passed(hours: string | null, { sinceStoppedH }: RecoveringWell): boolean | null {
  return hours === null || sinceStoppedH === undefined ? null : compareText(sinceStoppedH, hours) >= 0;
}

function wait(because: string, ...minutes: readonly (number | null)[]): RecoveryNext {
  const known = minutes.filter((one) => one !== null);
  return { next: 'wait', waitMin: known.length === 0 ? null : upText(Math.min(...known)), because };
}

interface Share {
  /** Null where it cannot be told, or where the two meanings differ and the plan names none. */
  readonly reached: boolean | null;
  readonly because: string;
  /** Minutes until it will be, by the meaning of the plan, or by both. */
  readonly minutes: number | null;
}

function shareOf(well: RecoveringWell, meaning: RecoveryMeaning | undefined, percent: string): Share {
  const shares = recoveryShares(well);
  const meanings = meaning === undefined ? RECOVERY_MEANINGS : [meaning];
  const reached = meanings.map((one) => {
    const share = shares[one];
    return isRefusal(share) ? null : reachesPercent(share, percent);
  });
  const texts = meanings.map((one) => {
    const share = shares[one];
    return isRefusal(share) ? share.refused : `${share.percent} % of the ${one.replace('-', ' ')} is back.`;
  });
  const minutes = meanings.map((one) => minutesUntil(well, one, percent));
  const known = minutes.filter((one) => one !== null);
  return {
    reached: reached.every((one) => one) ? true : reached.every((one) => one === false) ? false : null,
    because: texts.join(' '),
    minutes: known.length === minutes.length ? Math.max(...known) : null,
  };
}

/** Whether so many percent are back; null where it cannot be told of the meaning, or the two meanings differ. */
export function shareReached(
  well: RecoveringWell,
  meaning: RecoveryMeaning | undefined,
  percent: string,
): boolean | null {
  return shareOf(well, meaning, percent).reached;
}

const WHICH = 'The plan has to say of what the percentage is, or the missing depths are needed.';

/** After the last hour of a rule. */
function timeIsUp({ rule, well }: Case): RecoveryNext {
  const enough = enoughWater(well);
  const over = `${rule.notAfterH} h have passed since pumping stopped.`;
  if (rule.notBeforeH !== null) return step('out-of-time', `${over} The rule says nothing beyond: the plan decides.`);
  if (enough === true) return step('sample-now', `${over} There is water enough.`);
  if (enough === false) return step('record-as-dry', `${over} There is not water enough.`);
  return step('open', `${over} Say whether there is water enough: then sample, else record the well as dry.`);
}

function byPercent(one: Case, percent: string): RecoveryNext {
  const { rule, well, meaning } = one;
  const { reached, because, minutes } = shareOf(well, meaning, percent);
  if (reached === true) return step('sample-now', `${because} The rule asks for ${percent} %.`);
  if (passed(rule.notAfterH, well)) return timeIsUp(one);
  if (passed(rule.notBeforeH, well))
    return step('may-sample', `${because} At least ${rule.notBeforeH} h have passed, and not yet ${rule.notAfterH} h.`);
  if (reached === null) return step('open', `${because} ${WHICH}`);
  const bound = rule.notBeforeH ?? rule.notAfterH;
  const orTime = bound === null ? '' : `, or until ${bound} h have passed, whichever comes first`;
  return wait(`${because} Wait for ${percent} %${orTime}.`, minutes, untilH(bound, well));
}

function byEnough(one: Case): RecoveryNext {
  const { rule, well } = one;
  const enough = enoughWater(well);
  if (enough === true) return step('sample-now', 'There is water enough.');
  if (passed(rule.notAfterH, well)) return timeIsUp(one);
  if (enough === null)
    return step('open', 'Say whether there is water enough, or what the bottles need and what stands in the casing.');
  const until =
    rule.notAfterH === null ? '' : ` Where that takes more than ${rule.notAfterH} h, record the well as dry.`;
  return wait(`There is not water enough yet: sample as soon as there is.${until}`, untilH(rule.notAfterH, well));
}

/** What a rule on recovery says to do next. Exactly at a limit is at it. */
export function recoveryNext(one: Case): RecoveryNext {
  return one.rule.percent === null ? byEnough(one) : byPercent(one, one.rule.percent);
}
