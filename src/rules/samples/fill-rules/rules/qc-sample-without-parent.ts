import { fieldEvidence } from '../../../flags/evidence.ts';
import type { Evidence } from '../../../flags/raised-flag.ts';
import type { SampleRecord } from '../../sample-records.ts';
import { parentOf, typeEvidence, typeOf } from '../by-plan.ts';
import { aboutSample } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

/** Taken beside another one, from the same water. */
const BESIDE = ['duplicate', 'blind-duplicate', 'matrix-spike', 'split'];

/** The laboratory is told which sample a spike is of, and would learn of a blind one that it is no sample like the others. */
function spikeOfBlind(spike: SampleRecord, blind: SampleRecord, evidence: readonly Evidence[]) {
  const sentence = `${spike.fields.number} is a matrix spike of the blind duplicate ${blind.fields.number}, which the laboratory is not told. Name the first sample: the water is the same.`;
  return aboutSample(spike, sentence, [fieldEvidence(spike, 'of'), ...evidence]);
}

const PLANNED = '00000000-0000-7000-8000-000000000900';
const PARENT = '00000000-0000-7000-8000-000000000901';

export const qcSampleWithoutParent: SampleRule = {
  code: 'qc-sample-without-parent',
  title:
    'A duplicate, spike, split or resample does not name the sample that it goes with, or a spike names a blind duplicate',
  severity: 'question',
  addressee: 'tonight',
  source: 'Hawaii Department of Health, Technical Guidance Manual, 10.6: the field record keeps the true parent',
  verified: true,
  methods: null,
  evaluate(facts) {
    const { samples } = facts;
    const isBlind = (one: SampleRecord) => typeOf(one, facts) === 'blind-duplicate';
    return samples.flatMap((sample) => {
      const { number } = sample.fields;
      const [type, of] = [typeOf(sample, facts), parentOf(sample, facts)];
      if (type === 'normal') return [];
      const isElsewhere = of !== undefined && BESIDE.includes(type) && !samples.some(({ id }) => id === of);
      const blind = type === 'matrix-spike' ? samples.find((one) => one.id === of && isBlind(one)) : undefined;
      if (blind) return spikeOfBlind(sample, blind, typeEvidence(blind, facts));
      if (of !== undefined && of !== sample.id && !isElsewhere) return [];
      const what = type.replaceAll('-', ' ');
      const sentence = isElsewhere
        ? `${number} is a ${what} of a sample that was not taken at this visit. Name the one whose water it is.`
        : `${number} is a ${what}, and of which sample is not said. Name it: the two are compared.`;
      return aboutSample(sample, sentence, [...typeEvidence(sample, facts), fieldEvidence(sample, 'of')]);
    });
  },
  vectors: [
    {
      name: 'a duplicate of nothing',
      given: { samples: [{}, { type: 'duplicate' }] },
      expect: 'raised',
      says: 'W-102 is a duplicate',
    },
    {
      name: 'a duplicate of the sample beside it',
      given: { samples: [{}, { type: 'duplicate', of: '00000000-0000-7000-8000-000000000400' }] },
      expect: 'silent',
    },
    {
      name: 'one that its plan alone calls a spike, of nothing',
      given: { samples: [{}, { planned: PLANNED }], planned: [{ type: 'matrix-spike' }] },
      expect: 'raised',
      says: 'W-102 is a matrix spike, and of which sample is not said',
    },
    {
      name: 'one that its plan alone calls a spike, of what was taken for the planned parent',
      given: {
        samples: [{ planned: PARENT }, { planned: PLANNED }],
        planned: [{ type: 'matrix-spike', of: PARENT }, {}],
      },
      expect: 'silent',
    },
    {
      name: 'one that its plan alone calls a spike, of a parent that nobody took here',
      given: { samples: [{}, { planned: PLANNED }], planned: [{ type: 'matrix-spike', of: PARENT }, {}] },
      expect: 'raised',
      says: 'not taken at this visit',
    },
    {
      name: 'a spike of one that its plan alone calls blind',
      given: {
        samples: [
          {},
          { planned: PLANNED, of: '00000000-0000-7000-8000-000000000400' },
          { type: 'matrix-spike', of: '00000000-0000-7000-8000-000000000401' },
        ],
        planned: [{ type: 'blind-duplicate' }],
      },
      expect: 'raised',
      says: 'which the laboratory is not told',
    },
    {
      name: 'a sample that is planned as a blank',
      given: { samples: [{ planned: PLANNED }], planned: [{ type: 'field-blank' }] },
      expect: 'silent',
    },
    {
      name: 'a split of a sample of another visit',
      given: { samples: [{}, { type: 'split', of: '00000000-0000-7000-8000-0000000000aa' }] },
      expect: 'raised',
      says: 'not taken at this visit',
    },
    {
      name: 'a resample of an earlier one',
      given: { samples: [{ type: 'resample', of: '00000000-0000-7000-8000-0000000000aa' }] },
      expect: 'silent',
    },
    {
      name: 'of itself',
      given: { samples: [{ type: 'resample', of: '00000000-0000-7000-8000-000000000400' }] },
      expect: 'raised',
    },
    {
      name: 'a spike of a blind duplicate',
      given: {
        samples: [
          {},
          { type: 'blind-duplicate', of: '00000000-0000-7000-8000-000000000400' },
          { type: 'matrix-spike', of: '00000000-0000-7000-8000-000000000401' },
        ],
      },
      expect: 'raised',
      says: 'Name the first sample: the water is the same',
    },
    {
      name: 'a spike of the first sample beside its blind duplicate',
      given: {
        samples: [
          {},
          { type: 'blind-duplicate', of: '00000000-0000-7000-8000-000000000400' },
          { type: 'matrix-spike', of: '00000000-0000-7000-8000-000000000400' },
        ],
      },
      expect: 'silent',
    },
    { name: 'a normal sample', given: {}, expect: 'silent' },
  ],
};
