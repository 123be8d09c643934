import type { VisitBundle } from '../../visit-bundle.ts';
import { chemistryFlags, IN_A_CELL } from '../facts/chemistry-flags.ts';
import { observedMs } from '../facts/observed-order.ts';
import type { FlagRule } from '../flag-rule.ts';

const code = 'conductance-method-changed';

/** What moves the figure of a sensor by itself. */
const MENDED = new Set(['meter-swapped', 'sensor-recalibrated', 'cell-cleaned', 'air-in-line']);

type PurgeBundle = VisitBundle['purges'][number];

/** Two meters differ by their calibration, and a sensor that was seen to reads otherwise: then the step has its cause. */
function isUnexplained(ids: readonly string[], { readings, occurrences }: PurgeBundle): boolean {
  const about = readings.filter(({ id }) => ids.includes(id));
  const times = about.map(observedMs);
  const [from, to] = [Math.min(...times), Math.max(...times)];
  const mended = occurrences.some(({ fields, ...one }) => {
    const at = observedMs({ fields, ...one });
    return MENDED.has(fields.type) && at >= from && at <= to;
  });
  return !mended && new Set(about.map(({ fields }) => fields.meter)).size === 1;
}

const at = (minute: string, specificConductanceUsPerCm: string) => ({
  at: `10:${minute}`,
  temperatureC: '10.0',
  specificConductanceUsPerCm,
});
/** At 10 °C the factors of 1.91 and 2.00 % per °C differ by 1.9 %. */
const stepped = [at('05', '600'), at('10', '601'), at('15', '612'), at('20', '612')];

export const conductanceMethodChanged: FlagRule = {
  code,
  title: 'Specific conductance steps as if its temperature compensation was changed in mid-purge',
  severity: 'question',
  addressee: 'tonight',
  source: 'ISO 7888:1985 / EN 27888 and the linear factors of 1.91 and 2.00 % per °C (1.91 % from memory)',
  verified: false,
  methods: IN_A_CELL,
  yieldsTo: ['value-not-believable'],
  evaluate: ({ bundle }) =>
    chemistryFlags(bundle, {
      code,
      fields: () => ['specificConductanceUsPerCm'],
      counts: (finding, _, purge) => isUnexplained(finding.readings, purge),
    }),
  vectors: [
    {
      name: 'a step of just that size between steady readings',
      given: { readings: stepped },
      expect: 'raised',
      says: 'Look at the setting of the meter',
    },
    {
      name: 'the meter was swapped',
      given: { readings: stepped, occurrences: [{ at: '10:13', type: 'meter-swapped' }] },
      expect: 'silent',
    },
    {
      name: 'something else happened at that time',
      given: { readings: stepped, occurrences: [{ at: '10:13', type: 'flow-changed' }] },
      expect: 'raised',
    },
    {
      name: 'the cell was cleaned before',
      given: { readings: stepped, occurrences: [{ at: '10:07', type: 'cell-cleaned' }] },
      expect: 'raised',
    },
    {
      name: 'the cell was cleaned after',
      given: { readings: stepped, occurrences: [{ at: '10:18', type: 'cell-cleaned' }] },
      expect: 'raised',
    },
    {
      name: 'another meter, though nobody recorded the swap',
      given: {
        readings: stepped.map((one, index) =>
          index < 2 ? one : { ...one, meter: '00000000-0000-7000-8000-0000000000aa' },
        ),
      },
      expect: 'silent',
    },
    {
      name: 'water that drifts',
      given: { readings: [at('05', '640'), at('10', '625'), at('15', '612'), at('20', '606')] },
      expect: 'silent',
    },
  ],
};
