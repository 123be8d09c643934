import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import { listText } from '../../flags/list-text.ts';
import { CLOCKS_DIFFER_MIN, spanText } from '../clocks.ts';
import { aboutCooler, type CustodyRule, signedEvidence } from '../custody-rule.ts';

export const handOverClocksDiffer: CustodyRule = {
  code: 'hand-over-clocks-differ',
  title: 'The clocks of both sides of a hand-over differ',
  severity: 'note',
  addressee: 'office',
  source: CUSTODY_RULES.clocksDiffer.source,
  verified: false,
  isStored: true,
  find(facts) {
    const its = facts.custody.changes.filter(({ reading }) => reading?.order === 'note');
    if (its.length === 0) return [];
    const told = its.map(
      ({ relinquished, received, reading }) =>
        `${received?.name} received it ${spanText(-(reading?.minutes ?? 0))} before ${relinquished?.name} relinquished it`,
    );
    return aboutCooler(
      facts,
      `${listText(told)}: two clocks that differ, by no more than ${CLOCKS_DIFFER_MIN} min. Nothing is to be done.`,
      signedEvidence(its.flatMap(({ relinquished, received }) => [relinquished, received])),
    );
  },
  vectors: [
    {
      name: '10:05 and 09:58',
      given: {
        hands: [
          ['out', '10:05', 'Ann Poe'],
          ['in', '09:58', 'Ben Roe'],
        ],
      },
      expect: '7 min before',
    },
    {
      name: '15 min',
      given: {
        hands: [
          ['out', '10:15', 'Ann Poe'],
          ['in', '10:00', 'Ben Roe'],
        ],
      },
      expect: '15 min before',
    },
    {
      name: '16 min',
      given: {
        hands: [
          ['out', '10:16', 'Ann Poe'],
          ['in', '10:00', 'Ben Roe'],
        ],
      },
      expect: null,
    },
    {
      name: 'in order',
      given: {
        hands: [
          ['out', '10:05', 'Ann Poe'],
          ['in', '10:05', 'Ben Roe'],
        ],
      },
      expect: null,
    },
  ],
};
