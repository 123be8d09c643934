import { byKey } from '../../../equipment/by-key.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { listText } from '../../../flags/list-text.ts';
import { aboutSample, ofSamples, perSample } from '../parts.ts';
import type { ContainerFacts, SampleFacts } from '../sample-facts.ts';
import type { SampleRule } from '../sample-rule.ts';

/** Nothing more comes: the crew has left, or none of them waits to be filled. */
function isOver(its: readonly ContainerFacts[], { visit }: SampleFacts): boolean {
  return (
    visit?.fields.left !== undefined ||
    its.every(({ container, isFull }) => isFull || container.fields.standing !== 'expected')
  );
}

/** Where none was ever filled, that they wait or were dropped is asked about by itself. */
function isBegun(its: readonly ContainerFacts[]): boolean {
  return its.some(({ fills, container: { fields } }) => fills.length > 0 || fields.standing === 'discarded');
}

/** Containers of one sample, suite and group, of which fewer are full than give a result; a bubble in one is asked about by itself. */
function short(facts: SampleFacts): readonly ContainerFacts[] {
  const bySet = byKey(ofSamples(facts), ({ sample, container: { fields } }) =>
    sample === null ? null : `${sample.id} ${fields.suite} ${fields.group}`,
  );
  return [...bySet.values()]
    .filter((its) => {
      const least = its[0]?.asked?.leastCount ?? 0;
      return its.filter(({ isFull }) => isFull).length < least && isBegun(its) && isOver(its, facts);
    })
    .flat();
}

const PLANNED = '00000000-0000-7000-8000-000000000900';

export const tooFewContainers: SampleRule = {
  code: 'too-few-containers',
  title: 'Fewer containers are usable than give a result',
  severity: 'caution',
  addressee: 'now',
  source: 'Common practice, no source: the least usable number of the catalog; the laboratory decides',
  verified: false,
  methods: null,
  evaluate(facts) {
    return perSample(short(facts), (sample, its) => {
      const groups = [...new Set(its.map(({ asked }) => `${asked?.group.title} (${asked?.leastCount})`))];
      return aboutSample(
        sample,
        `${sample.fields.number} has fewer usable containers than a result needs: ${listText(groups.toSorted())}. Fill more, or drop the analysis with the reason and who agreed.`,
        its.map(({ container }) => fieldEvidence(container, 'standing')),
      );
    });
  },
  vectors: [
    {
      name: 'the only vial was discarded',
      given: { containers: [{ standing: 'discarded', fill: { bubble: true } }] },
      expect: 'raised',
      says: 'W-101 has fewer usable containers',
    },
    { name: 'one of two was', given: { containers: [{ standing: 'discarded' }, {}] }, expect: 'silent' },
    {
      name: 'another one still waits',
      given: { containers: [{ standing: 'discarded' }, { standing: 'expected', fill: null }] },
      expect: 'silent',
    },
    {
      name: 'another one waited, and the crew left',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        containers: [{ standing: 'discarded' }, { standing: 'expected', fill: null }],
      },
      expect: 'raised',
    },
    {
      name: 'another one waits by the plan alone',
      given: {
        samples: [{ planned: PLANNED }],
        containers: [{ standing: 'discarded' }, { of: null, planned: PLANNED, standing: 'expected', fill: null }],
      },
      expect: 'silent',
    },
    {
      name: 'another one that the plan alone knows was forgotten',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        samples: [{ planned: PLANNED }],
        containers: [{ standing: 'discarded' }, { of: null, planned: PLANNED, standing: 'expected', fill: null }],
      },
      expect: 'raised',
    },
    {
      name: 'the only one is of the plan alone, and was discarded',
      given: {
        samples: [{ planned: PLANNED }],
        containers: [{ of: null, planned: PLANNED, standing: 'discarded' }],
      },
      expect: 'raised',
    },
    {
      name: 'all dropped: that is asked about by itself',
      given: { containers: [{ standing: 'dropped', fill: null }] },
      expect: 'silent',
    },
    { name: 'the vial is full', given: {}, expect: 'silent' },
  ],
};
