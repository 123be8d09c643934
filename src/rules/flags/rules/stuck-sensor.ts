import { CHEMISTRY_QUANTITIES } from '../../chemistry/chemistry-reading.ts';
import { chemistryFlags, IN_A_CELL } from '../facts/chemistry-flags.ts';
import type { FlagRule } from '../flag-rule.ts';

const code = 'stuck-sensor';

/** Everything falls but pH. */
const readings = Array.from({ length: 7 }, (_, index) => ({
  at: `10:${String(5 + 5 * index).padStart(2, '0')}`,
  ph: '7.13',
  temperatureC: (14.4 - 0.3 * index).toFixed(1),
  dissolvedOxygenMgPerL: (3.2 - 0.4 * index).toFixed(2),
  orpMv: String(40 - 12 * index),
}));

/** Tonight, for a figure with few digits may rest by itself: the check in a standard tells. */
export const stuckSensor: FlagRule = {
  code,
  title: 'One sensor repeats its figure while the water around it changes',
  severity: 'question',
  addressee: 'tonight',
  source: 'common practice, no source',
  verified: false,
  methods: IN_A_CELL,
  yieldsTo: ['value-not-believable', 'repeated-lines'],
  evaluate: ({ bundle }) =>
    chemistryFlags(bundle, {
      code,
      // the first figure of the finding is that of the sensor
      fields: ({ numbers }) => CHEMISTRY_QUANTITIES.filter((quantity) => quantity === numbers[0]?.name),
    }),
  vectors: [
    {
      name: 'pH rests while three others fall',
      given: { readings },
      expect: 'raised',
      says: 'pH shows 7.13 in 7 readings in a row',
    },
    {
      name: 'two sensors rest: one flag',
      given: { readings: readings.map((one) => ({ ...one, specificConductanceUsPerCm: '612' })) },
      expect: 'raised',
      says: 'Specific conductance shows 612',
    },
    { name: 'five readings may rest', given: { readings: readings.slice(0, 5) }, expect: 'silent' },
    {
      name: 'it moves in its last digit',
      given: { readings: readings.map((one, index) => ({ ...one, ph: index === 3 ? '7.14' : '7.13' })) },
      expect: 'silent',
    },
    {
      name: 'nothing moves: steady water',
      given: { readings: readings.map(({ at, ph }) => ({ at, ph, temperatureC: '12.4', orpMv: '40' })) },
      expect: 'silent',
    },
  ],
};
