import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import { isAfter, timeText } from '../clocks.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';
import { isWithinFirm } from '../leaves-firm.ts';

const { tapeAcrossOpenings } = CUSTODY_RULES;

export const sealMissingAtHandOver: CustodyRule = {
  code: 'seal-missing-at-hand-over',
  title: 'A cooler was relinquished without a custody seal on it',
  severity: 'caution',
  addressee: 'tonight',
  source: tapeAcrossOpenings.source,
  verified: tapeAcrossOpenings.verified,
  isStored: true,
  find(facts) {
    const first = facts.custody.changes.find((one) => one.relinquished && !isWithinFirm(one))?.relinquished;
    if (!first || facts.seals.some(({ fields }) => !isAfter(fields.applied, first.at))) return [];
    const [late] = facts.seals;
    const why = late
      ? `the first seal, ${late.fields.number}, was applied ${timeText(late.fields.applied, facts.timeZone)}`
      : 'no seal is on record';
    return aboutCooler(
      facts,
      `${first.name} relinquished it ${timeText(first.at, facts.timeZone)}, and ${why}: nothing shows that nobody opened it. Record the seal with its number and time, or say that there was none.`,
      [shows(first.record, 'at', first.at), ...(late ? [shows(late.id, 'applied', late.fields.applied)] : [])],
    );
  },
  vectors: [
    { name: 'none', given: { hands: [['out', '17:00', 'Ann Poe']] }, expect: 'no seal is on record' },
    {
      name: 'after it',
      given: { hands: [['out', '17:00', 'Ann Poe']], seals: [['S-1', '18:00']] },
      expect: 'the first seal, S-1, was applied 2026-05-04 18:00',
    },
    { name: 'before it', given: { hands: [['out', '17:00', 'Ann Poe']], seals: [['S-1', '16:55']] }, expect: null },
    {
      name: 'minutes after, by another clock',
      given: { hands: [['out', '17:00', 'Ann Poe']], seals: [['S-1', '17:10']] },
      expect: null,
    },
    {
      name: 'to a colleague',
      given: {
        hands: [
          ['out', '17:00', 'Ann Poe'],
          ['in', '17:01', 'Ben Roe'],
        ],
      },
      expect: null,
    },
    {
      name: 'to a colleague, who gives it to the laboratory',
      given: {
        hands: [
          ['out', '16:00', 'Ann Poe'],
          ['in', '16:01', 'Ben Roe'],
          ['out', '17:00', 'Ben Roe'],
          ['in', '17:01', 'Cy Loe', { organization: 'Laboratory A' }],
        ],
      },
      expect: 'Ben Roe relinquished it 2026-05-04 17:00',
    },
    {
      name: 'to the laboratory, which has the name of the firm',
      given: {
        cooler: { laboratory: 'lab-a' },
        hands: [['out', '17:00', 'Ann Poe', { organization: 'Laboratory A' }]],
        receipt: { received: '18:00' },
      },
      expect: 'no seal is on record',
    },
    { name: 'not relinquished yet', given: {}, expect: null },
  ],
};
