import { CHEMISTRY_QUANTITIES } from '../../chemistry/chemistry-reading.ts';
import { chemistryFlags, IN_A_CELL } from '../facts/chemistry-flags.ts';
import type { FlagRule } from '../flag-rule.ts';

const code = 'repeated-lines';

/** Three equal lines are advice at the well, where the crew looks at the display; so many are asked about at the truck. */
const LEAST_LINES = 6;

const line = { temperatureC: '12.4', ph: '7.01', specificConductanceUsPerCm: '612', orpMv: '-84', turbidityNtu: '3.1' };
const lines = Array.from({ length: LEAST_LINES }, (_, index) => ({ ...line, at: `10:${20 + 5 * index}` }));

export const repeatedLines: FlagRule = {
  code,
  title: 'Whole lines of the log repeat to the last digit',
  severity: 'note',
  addressee: 'tonight',
  source: 'common practice, no source',
  verified: false,
  methods: IN_A_CELL,
  yieldsTo: ['value-not-believable'],
  evaluate: ({ bundle }) =>
    chemistryFlags(bundle, {
      code,
      fields: () => CHEMISTRY_QUANTITIES,
      counts: ({ readings }) => readings.length >= LEAST_LINES,
    }),
  vectors: [
    { name: 'six lines of five figures', given: { readings: lines }, expect: 'raised', says: 'display is frozen' },
    { name: 'five lines are advice, and no flag', given: { readings: lines.slice(1) }, expect: 'silent' },
    {
      name: 'one figure moves',
      given: { readings: lines.map((one, index) => ({ ...one, orpMv: String(-84 - (index % 2)) })) },
      expect: 'silent',
    },
    {
      name: 'too few figures to tell',
      given: { readings: lines.map(({ at, ph, temperatureC }) => ({ at, ph, temperatureC })) },
      expect: 'silent',
    },
  ],
};
