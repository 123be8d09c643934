import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import { instantMs } from '../../../science/instant-ms.ts';
import { listText } from '../../flags/list-text.ts';
import { timeText } from '../clocks.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';
import type { FormerValue } from '../former-values.ts';

const { oneLineThrough } = CUSTODY_RULES;

export const correctedAfterSigning: CustodyRule = {
  code: 'corrected-after-signing',
  title: 'The custody record was corrected after somebody signed it',
  severity: 'note',
  addressee: 'office',
  source: oneLineThrough.source,
  verified: oneLineThrough.verified,
  isStored: false,
  find(facts, { former }) {
    const signed = facts.custody.changes.find(({ relinquished }) => relinquished)?.relinquished?.at;
    if (signed === undefined) return [];
    // bottles that were moved are told by a rule of their own
    const isMove = ({ kind, field }: FormerValue) => kind === 'container' && field === 'cooler';
    const its = former.filter((one) => one.was !== '' && instantMs(one.at) > instantMs(signed) && !isMove(one));
    if (its.length === 0) return [];
    const told = its.map(({ field, was, is, by }) => `${field} from "${was}" to "${is}"${by ? ` by ${by}` : ''}`);
    const why = its.every(({ reason }) => reason) ? '' : ' Say why, where no reason is given.';
    return aboutCooler(
      facts,
      `After ${timeText(signed, facts.timeZone)}, when it was first signed for, was corrected: ${listText(told)}. The record shows both, struck through and new; who has a copy from before needs a new one.${why}`,
      its.map(({ record, field, is }) => shows(record, field, is)),
    );
  },
  vectors: [
    {
      name: 'the number of the cooler',
      given: {
        hands: [['out', '17:00', 'Ann Poe']],
        former: [
          {
            record: 'cooler',
            kind: 'cooler',
            field: 'number',
            was: 'C-7',
            is: 'C-1',
            at: '18:00',
            by: 'Ann Poe',
            reason: 'misread',
          },
        ],
      },
      expect: 'number from "C-7" to "C-1" by Ann Poe',
    },
    {
      name: 'before it was signed',
      given: {
        hands: [['out', '17:00', 'Ann Poe']],
        former: [
          {
            record: 'cooler',
            kind: 'cooler',
            field: 'number',
            was: 'C-7',
            is: 'C-1',
            at: '16:00',
            by: null,
            reason: null,
          },
        ],
      },
      expect: null,
    },
    {
      name: 'first given after it was signed',
      given: {
        hands: [['out', '17:00', 'Ann Poe']],
        former: [
          {
            record: 'cooler',
            kind: 'cooler',
            field: 'trackingNumber',
            was: '',
            is: '7001',
            at: '18:00',
            by: null,
            reason: null,
          },
        ],
      },
      expect: null,
    },
    { name: 'nothing was corrected', given: { hands: [['out', '17:00', 'Ann Poe']] }, expect: null },
  ],
};
