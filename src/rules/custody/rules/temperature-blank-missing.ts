import { QC_RULES } from '../../../catalog/analytes/qc-rules.ts';
import { needsCold } from '../cold.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';

const rule = QC_RULES.find(({ type }) => type === 'temperature-blank');

export const temperatureBlankMissing: CustodyRule = {
  code: 'temperature-blank-missing',
  title: 'A cooler has no temperature blank',
  severity: 'note',
  addressee: 'tonight',
  source: rule?.source ?? '',
  verified: rule?.verified ?? false,
  isStored: true,
  find(facts) {
    const { packed } = facts.cooler.fields;
    if (packed == null || facts.plan?.temperatureBlankPerCooler === false) return [];
    if (!facts.packed.some(needsCold) || facts.packed.some((one) => one.isTemperatureBlank)) return [];
    return aboutCooler(
      facts,
      'It was packed without a temperature blank: at the laboratory the air in it will be read, or a bottle opened. Put one in and record it.',
      [shows(facts.cooler.id, 'packed', packed)],
    );
  },
  vectors: [
    { name: 'none', given: { cooler: { packed: '17:00' }, bottles: { a: {} } }, expect: 'without a temperature blank' },
    {
      name: 'one',
      given: { cooler: { packed: '17:00' }, bottles: { a: {}, t: { blank: 'temperature', group: 'none' } } },
      expect: null,
    },
    {
      name: 'the plan asks for none',
      given: { cooler: { packed: '17:00' }, bottles: { a: {} }, plan: { temperatureBlankPerCooler: false } },
      expect: null,
    },
    {
      name: 'metals alone',
      given: { cooler: { packed: '17:00' }, bottles: { a: { group: 'metals-total' } } },
      expect: null,
    },
    { name: 'still being packed', given: { bottles: { a: {} } }, expect: null },
  ],
};
