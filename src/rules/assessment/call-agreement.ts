import type { AssessmentFields } from '../../protocol/kinds/assessment.ts';
import type { CallRecord } from './assessment-input.ts';
import { missingAt } from './missing.ts';
import type { PurgeRun } from './purge-run.ts';
import { judgedAt, stableAt } from './stable-at.ts';
import { wholeWindow } from './standing.ts';

type Agreement = AssessmentFields['call'];

/** What the readings up to some reading say. */
export interface Outlook {
  readonly stable: boolean;
  readonly missing: readonly string[];
}

function outlookAt(run: PurgeRun, end: number): Outlook {
  const whole = wholeWindow(run, end);
  const judged = run.parameters.map((parameter) => judgedAt(run, parameter, end));
  return { stable: end >= 0 && stableAt(run, end), missing: missingAt(run, end, whole, judged) };
}

function compare(decision: CallRecord['fields']['decision'], then: Outlook): Pick<Agreement, 'agreement' | 'because'> {
  if (decision === 'purged-dry') {
    return { agreement: 'none', because: 'A well that was purged dry need not be stable to be sampled.' };
  }
  if ((decision === 'stable') === then.stable) {
    return { agreement: 'agrees', because: 'The readings before the call say the same.' };
  }
  if (then.stable) {
    const because = 'The call differs because every criterion was met by the readings before it.';
    return { agreement: 'differs', because };
  }
  const because = `The call differs because the readings before it were not stable: ${then.missing.join(' ')}`;
  return { agreement: 'differs', because };
}

/**
 * Sets the latest call of a person beside what the readings before it said. Both stand: the call is the person's. A
 * well that was pumped dry is sampled without being stable, so that call is neither right nor wrong.
 *
 * @param now what all readings say, which most calls were made after
 */
export function callAgreement(run: PurgeRun, now: Outlook): Agreement {
  const latest = run.calls.at(-1);
  if (latest === undefined) return { agreement: 'none' };
  const end = run.moments.findLastIndex((moment) => moment.atMs <= latest.atMs);
  const then = end === run.moments.length - 1 ? now : outlookAt(run, end);
  return {
    call: latest.record.id,
    stableThen: then.stable,
    ...compare(latest.record.fields.decision, then),
  };
}
