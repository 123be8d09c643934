import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import { brokenBefore, brokenOnTheWay } from '../broken-seals.ts';
import { timeText } from '../clocks.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';

const { tapeAcrossOpenings } = CUSTODY_RULES;

export const sealBrokenOnTheWay: CustodyRule = {
  code: 'seal-broken-on-the-way',
  title: 'A custody seal was broken on the way, and no other was put on',
  severity: 'caution',
  addressee: 'office',
  source: tapeAcrossOpenings.source,
  verified: tapeAcrossOpenings.verified,
  isStored: true,
  find(facts) {
    const its = brokenOnTheWay(facts, false);
    const checks = facts.checks.filter(({ fields }) => fields.sealsIntact === false);
    if (its.length === 0 && (checks.length === 0 || brokenBefore(facts).length > 0)) return [];
    const when = (at: string) => timeText(at, facts.timeZone);
    const parts = [
      ...its.map(({ fields }) => `Seal ${fields.number} was broken ${when(fields.broken ?? '')}`),
      ...checks.map(({ fields }) => `A look at it ${when(fields.observed.at)} found its seals not whole`),
    ];
    const sentence = `${parts.join('. ')}, before the laboratory had it, and no seal was put on after that. Say who opened it and why; what was in it is then in question.`;
    const evidence = [
      ...its.map(({ id, fields }) => shows(id, 'broken', fields.broken ?? '')),
      ...checks.map(({ id }) => shows(id, 'sealsIntact', 'false')),
    ];
    return aboutCooler(facts, sentence, evidence);
  },
  vectors: [
    {
      name: 'broken, not replaced',
      given: { seals: [['S-1', '16:00', '20:00']], receipt: {} },
      expect: 'Seal S-1 was broken 2026-05-04 20:00',
    },
    {
      name: 'found broken',
      given: { seals: [['S-1', '16:00']], checks: [['20:00', { sealsIntact: false }]], receipt: {} },
      expect: 'found its seals not whole',
    },
    { name: 'broken by the laboratory', given: { seals: [['S-1', '16:00', '+1 09:05']], receipt: {} }, expect: null },
    {
      name: 'replaced',
      given: {
        seals: [
          ['S-1', '16:00', '20:00'],
          ['S-2', '20:05'],
        ],
        receipt: {},
      },
      expect: null,
    },
    {
      name: 'whole',
      given: { seals: [['S-1', '16:00']], checks: [['20:00', { sealsIntact: true }]], receipt: {} },
      expect: null,
    },
  ],
};
