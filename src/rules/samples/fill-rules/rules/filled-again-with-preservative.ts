import { fieldEvidence } from '../../../flags/evidence.ts';
import { aboutContainer, type Filled, fillEvidence, filled } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

/** Poured in portions that all have room in it nothing ran over. */
function isTopUp({ container, fills }: Filled): boolean {
  const volumes = fills.map(({ fields }) => Number(fields.volumeMl ?? Number.NaN));
  return volumes.reduce((sum, one) => sum + one, 0) <= Number(container.fields.volumeMl);
}

/** Said of the last filling and of none before, that it is in it tells that somebody put it in anew; always said, it tells nothing. */
function isAddedAnew({ fill, fills }: Filled): boolean {
  return fill.fields.preserved === true && !fills.slice(0, -1).some(({ fields }) => fields.preserved === true);
}

/** Of what a strip was held into the other rule judges by what it showed. */
function isWashedOut(one: Filled): boolean {
  const hasPreservative = (one.container.fields.preservatives ?? []).length > 0;
  const isMeasured = one.fill.fields.ph !== undefined;
  return hasPreservative && one.fills.length > 1 && !isAddedAnew(one) && !isMeasured && !isTopUp(one);
}

export const filledAgainWithPreservative: SampleRule = {
  code: 'filled-again-with-preservative',
  title: 'A container that came with preservative in it was filled more than once',
  severity: 'caution',
  addressee: 'now',
  source:
    'US Geological Survey, National Field Manual, 5.6.1: a bottle with preservative in it is filled without overflow and not rinsed, and a vial with a bubble is discarded for a new one',
  verified: true,
  methods: null,
  evaluate(facts) {
    return filled(facts)
      .filter(isWashedOut)
      .flatMap((one) => {
        const { label, preservatives = [] } = one.container.fields;
        return aboutContainer(
          one,
          `${label} came with ${preservatives.join(' and ').replaceAll('-', ' ')} in it and was filled ${one.fills.length} times: the first water took it along. Discard it and fill a new one; a bottle into which preservative was put anew, or that a pH strip shows to have it, may stay: write that down.`,
          [fieldEvidence(one.container, 'preservatives'), ...one.fills.map(fillEvidence)],
        );
      });
  },
  vectors: [
    {
      name: 'an acidified vial, emptied for its bubble',
      given: { containers: [{ fill: [{ bubble: true }, { at: '10:40', bubble: false }] }] },
      expect: 'raised',
      says: 'W-101-1 came with hydrochloric acid in it and was filled 2 times',
    },
    { name: 'filled once', given: {}, expect: 'silent' },
    {
      name: 'nothing in it',
      given: { containers: [{ preservatives: [], fill: [{}, { at: '10:40' }] }] },
      expect: 'silent',
    },
    {
      name: 'what is in it is not known',
      given: { containers: [{ preservatives: undefined, fill: [{}, { at: '10:40' }] }] },
      expect: 'silent',
    },
    {
      name: 'acid was added after it',
      given: { containers: [{ fill: [{}, { at: '10:40', preserved: true }] }] },
      expect: 'silent',
    },
    {
      name: 'a crew that always says that acid is in it',
      given: { containers: [{ fill: [{ preserved: true }, { at: '10:40', preserved: true }] }] },
      expect: 'raised',
    },
    {
      name: 'a strip was held into it',
      given: { containers: [{ fill: [{}, { at: '10:40', ph: '1.5' }] }] },
      expect: 'silent',
    },
    {
      name: 'discarded since',
      given: { containers: [{ standing: 'discarded', fill: [{}, { at: '10:40' }] }] },
      expect: 'silent',
    },
    {
      name: 'poured in two portions that have room in it',
      given: { containers: [{ volumeMl: '500', fill: [{ volumeMl: '200' }, { at: '10:40', volumeMl: '300' }] }] },
      expect: 'silent',
    },
    {
      name: 'twice as much as it takes',
      given: { containers: [{ fill: [{ volumeMl: '40' }, { at: '10:40', volumeMl: '40' }] }] },
      expect: 'raised',
    },
  ],
};
