import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import { listText } from '../../flags/list-text.ts';
import { CLOCKS_DIFFER_MIN, spanText, timeText } from '../clocks.ts';
import type { CoolerFacts } from '../cooler-facts.ts';
import type { Change } from '../custody-change.ts';
import { aboutCooler, type CustodyRule, signedEvidence } from '../custody-rule.ts';

function found({ custody }: CoolerFacts): readonly Change[] {
  return custody.changes.filter(({ reading }) => reading?.order === 'question');
}

function told({ relinquished, received, reading }: Change, { timeZone }: CoolerFacts): string {
  if (!relinquished || !received || !reading) return '';
  const [given, taken] = [relinquished.at, received.at].map((at) => timeText(at, timeZone));
  return `${received.name} received it ${taken}, ${spanText(-reading.minutes)} before ${relinquished.name} relinquished it ${given}`;
}

export const receivedBeforeRelinquished: CustodyRule = {
  code: 'received-before-relinquished',
  title: 'A cooler was received before it was relinquished',
  severity: 'question',
  addressee: 'office',
  source: `${CUSTODY_RULES.inPairs.source}; what two clocks may differ by: ${CUSTODY_RULES.clocksDiffer.source}`,
  verified: false,
  isStored: true,
  find(facts) {
    const its = found(facts);
    if (its.length === 0) return [];
    const sentence = `${listText(its.map((one) => told(one, facts)))}: more than ${CLOCKS_DIFFER_MIN} min, which two clocks may differ by. Ask both, and correct the time that is wrong.`;
    return aboutCooler(
      facts,
      sentence,
      signedEvidence(its.flatMap(({ relinquished, received }) => [relinquished, received])),
    );
  },
  vectors: [
    {
      name: '10:05 and 09:30',
      given: {
        hands: [
          ['out', '10:05', 'Ann Poe'],
          ['in', '09:30', 'Ben Roe'],
        ],
      },
      expect: '35 min before Ann Poe relinquished it 2026-05-04 10:05',
    },
    {
      name: '10:05 and 09:58',
      given: {
        hands: [
          ['out', '10:05', 'Ann Poe'],
          ['in', '09:58', 'Ben Roe'],
        ],
      },
      expect: null,
    },
    {
      name: 'in order',
      given: {
        hands: [
          ['out', '10:05', 'Ann Poe'],
          ['in', '10:06', 'Ben Roe'],
        ],
      },
      expect: null,
    },
  ],
};
