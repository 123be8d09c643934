import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import { missingAt } from './missing.ts';
import type { PurgeRun } from './purge-run.ts';
import { parameterStanding, stableAt } from './stable-at.ts';
import { wholeWindow } from './standing.ts';

type Agreement = AssessmentFields['call'];

/** What kept the purge from being stable at a reading. */
function whyNotStable(run: PurgeRun, end: number): string[] {
  const whole = wholeWindow(run, end);
  const judged = run.parameters.map((parameter) => ({ parameter, standing: parameterStanding(run, parameter, end) }));
  return missingAt(run, end, whole, judged);
}

function lastReadingBefore(run: PurgeRun, atMs: number): number {
  return run.moments.findLastIndex((moment) => moment.atMs <= atMs);
}

/**
 * Sets the latest call of a person beside what the readings before it said. Both stand: the call is the person's. A
 * well that was pumped dry is sampled without being stable, so that call is neither right nor wrong.
 */
export function callAgreement(run: PurgeRun): Agreement {
  const latest = run.calls.at(-1);
  if (latest === undefined) return { agreement: 'none' };
  const { id, fields } = latest.record;
  const end = lastReadingBefore(run, latest.atMs);
  const stableThen = end >= 0 && stableAt(run, end);
  const known = { call: id, stableThen };
  if (fields.decision === 'purged-dry') {
    return { agreement: 'none', ...known, because: 'A well that was purged dry need not be stable to be sampled.' };
  }
  const calledStable = fields.decision === 'stable';
  if (calledStable === stableThen) {
    return { agreement: 'agrees', ...known, because: 'The readings before the call say the same.' };
  }
  const because = calledStable
    ? `The call differs because the readings before it were not stable: ${whyNotStable(run, end).join(' ')}`
    : 'The call differs because every criterion was met by the readings before it.';
  return { agreement: 'differs', ...known, because };
}
