import { QC_RULES } from '../../../catalog/analytes/qc-rules.ts';
import type { CoolerFacts, Packed } from '../cooler-facts.ts';
import { aboutCooler, type CustodyRule, labelsText, shows } from '../custody-rule.ts';

const rule = QC_RULES.find(({ type, isDefault }) => type === 'trip-blank' && isDefault);

/** Where the plan names suites, a trip blank goes along with those; else with volatiles. */
function asksForOne({ plan }: CoolerFacts) {
  const suites = plan?.tripBlankSuites;
  return ({ container, groups, of }: Packed) => {
    if (of?.kind === 'blank') return false;
    if (suites == null) return groups.some(({ filling }) => filling.fillClass === 'volatiles');
    return container.fields.suite != null && suites.includes(container.fields.suite);
  };
}

export const tripBlankMissing: CustodyRule = {
  code: 'trip-blank-missing',
  title: 'A cooler with volatiles has no trip blank',
  severity: 'caution',
  addressee: 'tonight',
  source: rule?.source ?? '',
  verified: rule?.verified ?? false,
  isStored: true,
  find(facts) {
    const { packed } = facts.cooler.fields;
    const asking = facts.packed.filter(asksForOne(facts));
    if (packed == null || asking.length === 0 || facts.packed.some((one) => one.isTripBlank)) return [];
    return aboutCooler(
      facts,
      `It holds ${labelsText(asking)} and no trip blank: what got into them on the way cannot be told. Put one in, or all volatiles into one cooler that has one.`,
      [shows(facts.cooler.id, 'packed', packed)],
    );
  },
  vectors: [
    {
      name: 'volatiles',
      given: { cooler: { packed: '17:00' }, bottles: { a: {} } },
      expect: 'It holds a and no trip blank',
    },
    {
      name: 'with one',
      given: { cooler: { packed: '17:00' }, bottles: { a: {}, t: { blank: 'trip' } } },
      expect: null,
    },
    {
      name: 'no volatiles',
      given: { cooler: { packed: '17:00' }, bottles: { a: { group: 'nitrate' } } },
      expect: null,
    },
    {
      name: 'suites of the plan',
      given: {
        cooler: { packed: '17:00' },
        plan: { tripBlankSuites: ['PFAS'] },
        bottles: { a: { group: 'pfas-1633', more: { suite: 'PFAS' } } },
      },
      expect: 'It holds a',
    },
    {
      name: 'the plan asks for none',
      given: { cooler: { packed: '17:00' }, plan: { tripBlankSuites: [] }, bottles: { a: {} } },
      expect: null,
    },
    {
      name: 'an equipment blank for volatiles alone',
      given: { cooler: { packed: '17:00' }, bottles: { e: { blank: 'equipment' } } },
      expect: null,
    },
  ],
};
