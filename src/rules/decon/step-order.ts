import { instantMs } from '../../science/instant-ms.ts';
import { type DeconFinding, finding } from './finding.ts';
import { type RecordedStep, reasonOf, stepName, timeOfDay } from './recorded-step.ts';

interface Last {
  readonly of: RecordedStep;
  readonly at: string;
}

function outOfOrder(recorded: RecordedStep, at: string, last: Last): DeconFinding {
  const sentence = `The step "${stepName(recorded.step)}" was done at ${timeOfDay(at)}, before "${stepName(last.of.step)}" at ${timeOfDay(last.at)}, which comes first, and not again after it.`;
  return finding('order', recorded.step.id, 'cleaning', sentence, reasonOf([...recorded.done, ...last.of.done]));
}

/**
 * Steps that were not done after those that come before them in the protocol. Of a step that was done several times the
 * first that follows counts, so that a wash that was done again in order is in order. Two at one instant are in order:
 * who writes a minute has not written which came first.
 */
export function orderFindings(steps: readonly RecordedStep[]): readonly DeconFinding[] {
  const findings: DeconFinding[] = [];
  let last: Last | undefined;
  for (const recorded of steps) {
    const times = recorded.done.map(({ observed }) => observed.at);
    const reached = last;
    const next = times.find((at) => reached === undefined || instantMs(at) >= instantMs(reached.at));
    const latest = times.at(-1);
    if (next !== undefined) last = { of: recorded, at: next };
    else if (latest !== undefined && reached !== undefined) findings.push(outOfOrder(recorded, latest, reached));
  }
  return findings;
}
