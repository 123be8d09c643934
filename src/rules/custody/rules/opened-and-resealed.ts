import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import { brokenOnTheWay, sealAfter } from '../broken-seals.ts';
import { timeText } from '../clocks.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';

const { tapeAcrossOpenings } = CUSTODY_RULES;

export const openedAndResealed: CustodyRule = {
  code: 'opened-and-resealed',
  title: 'A cooler was opened on the way and sealed again',
  severity: 'note',
  addressee: 'office',
  source: tapeAcrossOpenings.source,
  verified: tapeAcrossOpenings.verified,
  isStored: true,
  find(facts) {
    const its = brokenOnTheWay(facts, true);
    if (its.length === 0) return [];
    const parts = its.map(({ fields }) => {
      const next = sealAfter(facts, fields.broken ?? '');
      const [broken, applied] = [fields.broken ?? '', next?.fields.applied ?? ''].map((at) =>
        timeText(at, facts.timeZone),
      );
      return `Seal ${fields.number} was broken ${broken}, and ${next?.fields.number} was applied ${applied}`;
    });
    const evidence = its.flatMap(({ id, fields }) => {
      const next = sealAfter(facts, fields.broken ?? '');
      return [
        shows(id, 'broken', fields.broken ?? ''),
        ...(next ? [shows(next.id, 'applied', next.fields.applied)] : []),
      ];
    });
    const why = its.every(({ fields }) => fields.remark) ? '' : ' Say who opened it and why, as a remark of the seal.';
    return aboutCooler(facts, `${parts.join('. ')}.${why}`, evidence);
  },
  vectors: [
    {
      name: 'ice was added',
      given: {
        seals: [
          ['S-1', '16:00', '20:00'],
          ['S-2', '20:05'],
        ],
        receipt: {},
      },
      expect: 'and S-2 was applied 2026-05-04 20:05',
    },
    { name: 'not replaced', given: { seals: [['S-1', '16:00', '20:00']], receipt: {} }, expect: null },
    {
      name: 'two from the beginning',
      given: {
        seals: [
          ['S-1', '16:00'],
          ['S-2', '16:00'],
        ],
        receipt: {},
      },
      expect: null,
    },
  ],
};
