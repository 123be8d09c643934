import { fieldEvidence } from '../../../flags/evidence.ts';
import type { PlannedRecord } from '../../sample-records.ts';
import { aboutContainer } from '../parts.ts';
import type { ContainerFacts, SampleFacts } from '../sample-facts.ts';
import type { SampleRule } from '../sample-rule.ts';

/**
 * A crew that numbers as it likes fills what is planned for the well, and names no planned sample: then only the well tells
 * that the bottle is another one.
 */
function isOther({ sample }: ContainerFacts, planned: PlannedRecord, { visit }: SampleFacts): boolean {
  if (sample === null || sample.fields.planned === planned.id) return false;
  if (sample.fields.planned !== undefined) return true;
  const { number, well } = planned.fields;
  return number !== sample.fields.number && well !== undefined && visit !== null && well !== visit.fields.well;
}

export const containerOfOtherSample: SampleRule = {
  code: 'container-of-other-sample',
  title: 'A container is labelled for another sample than the one whose water is in it',
  severity: 'question',
  addressee: 'now',
  source:
    'Arithmetic of the records: the laboratory knows whose water it is by the label, and the records by the sample',
  verified: true,
  methods: null,
  evaluate(facts) {
    return facts.containers.flatMap((one) => {
      const { container, sample, isFull } = one;
      const planned = facts.planned.find(({ id }) => id === container.fields.planned);
      if (!isFull || sample === null || planned === undefined || !isOther(one, planned, facts)) return [];
      return aboutContainer(
        one,
        `${container.fields.label} is labelled for ${planned.fields.number}, and holds water of ${sample.fields.number}. Say of which sample it is, or write a new label before it is packed.`,
        [
          fieldEvidence(container, 'planned'),
          fieldEvidence(container, 'sample'),
          fieldEvidence(sample, 'planned'),
          fieldEvidence(planned, 'number'),
          fieldEvidence(planned, 'well'),
        ],
      );
    });
  },
  vectors: [
    {
      name: 'labelled for another well, of a sample without a plan',
      given: {
        planned: [{ number: 'W-301', well: '00000000-0000-7000-8000-000000000007' }],
        containers: [{ label: 'W-301-1', planned: '00000000-0000-7000-8000-000000000900' }],
      },
      expect: 'raised',
      says: 'W-301-1 is labelled for W-301, and holds water of W-101',
    },
    {
      name: 'labelled for the blind one beside it',
      given: {
        planned: [{}, { number: 'W-102', type: 'blind-duplicate' }],
        samples: [{ planned: '00000000-0000-7000-8000-000000000900' }],
        containers: [{ planned: '00000000-0000-7000-8000-000000000901' }],
      },
      expect: 'raised',
      says: 'is labelled for W-102',
    },
    {
      name: 'labelled for its own',
      given: {
        planned: [{}],
        samples: [{ planned: '00000000-0000-7000-8000-000000000900' }],
        containers: [{ planned: '00000000-0000-7000-8000-000000000900' }],
      },
      expect: 'silent',
    },
    {
      name: 'of a sample of this well that has a number of its own',
      given: {
        planned: [{ number: 'W-301' }],
        containers: [{ planned: '00000000-0000-7000-8000-000000000900' }],
      },
      expect: 'silent',
    },
    {
      name: 'of the same number, though nobody linked the two',
      given: {
        planned: [{ number: 'W-101', well: '00000000-0000-7000-8000-000000000007' }],
        containers: [{ planned: '00000000-0000-7000-8000-000000000900' }],
      },
      expect: 'silent',
    },
    {
      name: 'its well was to be chosen on the way',
      given: {
        planned: [{ number: 'W-301', well: undefined }],
        containers: [{ planned: '00000000-0000-7000-8000-000000000900' }],
      },
      expect: 'silent',
    },
    {
      name: 'not filled yet',
      given: {
        planned: [{ number: 'W-301', well: '00000000-0000-7000-8000-000000000007' }],
        containers: [{ planned: '00000000-0000-7000-8000-000000000900', standing: 'expected', fill: null }],
      },
      expect: 'silent',
    },
  ],
};
