import type { VisitBundle } from '../../visit-bundle.ts';
import { fieldEvidence } from '../evidence.ts';
import { inObservedOrder, observedMs } from '../facts/observed-order.ts';
import type { FlagRule } from '../flag-rule.ts';
import type { Finding } from '../raised-flag.ts';

type PurgeBundle = VisitBundle['purges'][number];
type Reading = PurgeBundle['readings'][number];

/** Readings between two swaps of the meter. A recorded swap starts the window anew, so units before it mix with none. */
function betweenSwaps({ readings, occurrences }: PurgeBundle): readonly (readonly Reading[])[] {
  const swaps = occurrences.filter((one) => one.fields.type === 'meter-swapped').map(observedMs);
  const stretches = new Map<number, Reading[]>();
  for (const reading of inObservedOrder(readings)) {
    const swapsBefore = swaps.filter((at) => at <= observedMs(reading)).length;
    stretches.set(swapsBefore, [...(stretches.get(swapsBefore) ?? []), reading]);
  }
  return [...stretches.values()];
}

function isMixed({ readings }: PurgeBundle): boolean {
  const ntu = readings.some((one) => one.fields.turbidityNtu !== undefined);
  return ntu && readings.some((one) => one.fields.turbidityFnu !== undefined);
}

function findingOf(bundle: PurgeBundle): readonly Finding[] {
  for (const stretch of isMixed(bundle) ? betweenSwaps(bundle) : []) {
    const ntu = stretch.find((one) => one.fields.turbidityNtu !== undefined);
    const fnu = stretch.find((one) => one.fields.turbidityFnu !== undefined);
    if (!ntu || !fnu) continue;
    const evidence = [fieldEvidence(ntu, 'turbidityNtu'), fieldEvidence(fnu, 'turbidityFnu')];
    const sentence =
      'Turbidity stands in NTU and in FNU within one purge. The two optics do not agree and are never converted: keep to one meter, correct the unit, or record the swap.';
    return [{ subjectKind: 'purge', subject: bundle.purge.id, sentence, evidence }];
  }
  return [];
}

export const turbidityInTwoUnits: FlagRule = {
  code: 'turbidity-in-two-units',
  title: 'Turbidity in NTU and in FNU within one purge',
  severity: 'question',
  addressee: 'now',
  source: 'USGS National Field Manual, chapter 6.7, and ASTM D7315: the unit names the optics (from memory)',
  verified: false,
  methods: ['low-flow', 'volume', 'dry-well', 'flowing'],
  yieldsTo: [],
  evaluate: ({ bundle }) => bundle.purges.flatMap(findingOf),
  vectors: [
    {
      name: 'two units in one purge',
      given: { readings: [{ turbidityNtu: '8.1' }, { turbidityFnu: '7.4' }] },
      expect: 'raised',
    },
    {
      name: 'one unit throughout',
      given: { readings: [{ turbidityFnu: '8.1' }, { turbidityFnu: '7.4' }] },
      expect: 'silent',
    },
    {
      name: 'the meter was swapped in between',
      given: {
        readings: [
          { at: '10:05', turbidityNtu: '8.1' },
          { at: '10:10', turbidityFnu: '7.4' },
        ],
        occurrences: [{ at: '10:10', type: 'meter-swapped' }],
      },
      expect: 'silent',
    },
  ],
};
