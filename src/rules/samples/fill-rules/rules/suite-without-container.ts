import { fieldEvidence } from '../../../flags/evidence.ts';
import { listText } from '../../../flags/list-text.ts';
import { suiteNamed } from '../../asked-of-group.ts';
import type { SampleRecord, SuiteRecord } from '../../sample-records.ts';
import { typeOf } from '../by-plan.ts';
import { aboutSample, ofSamples } from '../parts.ts';
import type { ContainerFacts, SampleFacts } from '../sample-facts.ts';
import type { SampleRule } from '../sample-rule.ts';

/** Of a suite that is not known, a bottle for several groups may serve any of them. */
function serves({ container }: ContainerFacts, suite: string, book: readonly SuiteRecord[]): boolean {
  if (container.fields.suite === suite) return true;
  const also = container.fields.alsoGroups ?? [];
  const groups = suiteNamed(book, suite)?.fields.groups;
  return also.length > 0 && (groups === undefined || groups.some(({ group }) => also.includes(group)));
}

/** Suites of which no container is known at all: one that waits, was dropped or discarded is asked about by itself. */
function without(sample: SampleRecord, facts: SampleFacts): readonly string[] {
  // a spike is made from further bottles of organics alone, and from the bottle of its parent for the rest
  if (typeOf(sample, facts) === 'matrix-spike') return [];
  const its = ofSamples(facts).filter((one) => one.sample?.id === sample.id);
  // one of which nobody said its suite may be for any of them
  if (its.some(({ container }) => container.fields.suite === undefined)) return [];
  return sample.fields.suites.filter((suite) => !its.some((one) => serves(one, suite, facts.suites)));
}

/** Whether containers are recorded in this event at all: where they are not, nothing is missing. */
function isRecorded(facts: SampleFacts): boolean {
  return facts.plan !== null || ofSamples(facts).length > 0;
}

export const suiteWithoutContainer: SampleRule = {
  code: 'suite-without-container',
  title: 'The crew left, and a suite of a sample has no container',
  severity: 'caution',
  addressee: 'tonight',
  source: 'Arithmetic of the records: each suite of a sample goes into a container',
  verified: true,
  methods: null,
  evaluate(facts) {
    const { visit } = facts;
    if (visit?.fields.left === undefined || !isRecorded(facts)) return [];
    return facts.samples.flatMap((sample) => {
      const missing = without(sample, facts);
      if (missing.length === 0) return [];
      return aboutSample(
        sample,
        `The crew left, and ${sample.fields.number} has no container for ${listText(missing)}. Record it, go back for it, or take the suite off the sample and say who agreed.`,
        [fieldEvidence(sample, 'suites'), fieldEvidence(visit, 'left')],
      );
    });
  },
  vectors: [
    {
      name: 'no bottle for metals',
      given: { visit: { left: '2026-05-04T11:00:00-05:00' }, samples: [{ suites: ['VOC', 'Metals'] }] },
      expect: 'raised',
      says: 'no container for Metals',
    },
    {
      name: 'the only one was discarded, which is asked about as too few',
      given: { visit: { left: '2026-05-04T11:00:00-05:00' }, containers: [{ standing: 'discarded' }] },
      expect: 'silent',
    },
    { name: 'each has one', given: { visit: { left: '2026-05-04T11:00:00-05:00' } }, expect: 'silent' },
    { name: 'the crew is still there', given: { samples: [{ suites: ['VOC', 'Metals'] }] }, expect: 'silent' },
    {
      name: 'dropped',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        samples: [{ suites: ['VOC', 'Metals'] }],
        containers: [{}, { suite: 'Metals', standing: 'dropped', fill: null }],
      },
      expect: 'silent',
    },
    {
      name: 'an event that records no containers',
      given: { visit: { left: '2026-05-04T11:00:00-05:00' }, containers: [] },
      expect: 'silent',
    },
    {
      name: 'an event whose plan has them',
      given: { plan: {}, visit: { left: '2026-05-04T11:00:00-05:00' }, containers: [] },
      expect: 'raised',
    },
    {
      name: 'a bottle that serves several groups',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        samples: [{ suites: ['Ions', 'Alkalinity'] }],
        containers: [{ group: 'chloride', alsoGroups: ['alkalinity'], suite: 'Ions', type: 'bottle' }],
      },
      expect: 'silent',
    },
    {
      name: 'a suite of whose groups the bottle for several serves none',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        samples: [{ suites: ['Ions', 'VOC'] }],
        suite: [{ group: 'volatiles' }],
        containers: [{ group: 'chloride', alsoGroups: ['alkalinity'], suite: 'Ions', type: 'bottle' }],
      },
      expect: 'raised',
      says: 'no container for VOC',
    },
    {
      name: 'a suite of which the bottle for several serves a group',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        samples: [{ suites: ['Ions', 'VOC'] }],
        suite: [{ group: 'alkalinity' }],
        containers: [{ group: 'chloride', alsoGroups: ['alkalinity'], suite: 'Ions', type: 'bottle' }],
      },
      expect: 'silent',
    },
    {
      name: 'the bottle for metals is known by the plan alone',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        samples: [{ suites: ['VOC', 'Metals'], planned: '00000000-0000-7000-8000-000000000900' }],
        containers: [{}, { of: null, planned: '00000000-0000-7000-8000-000000000900', suite: 'Metals', fill: null }],
      },
      expect: 'silent',
    },
    {
      name: 'the plan alone has bottles, and of metals none',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        samples: [{ suites: ['VOC', 'Metals'], planned: '00000000-0000-7000-8000-000000000900' }],
        containers: [{ of: null, planned: '00000000-0000-7000-8000-000000000900', fill: null }],
      },
      expect: 'raised',
      says: 'no container for Metals',
    },
    {
      name: 'a matrix spike, whose metals come out of the bottle of its parent',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        samples: [{ suites: ['VOC', 'Metals'], type: 'matrix-spike' }],
      },
      expect: 'silent',
    },
    {
      name: 'one that its plan alone calls a matrix spike',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        samples: [{ suites: ['VOC', 'Metals'], planned: '00000000-0000-7000-8000-000000000900' }],
        planned: [{ type: 'matrix-spike' }],
      },
      expect: 'silent',
    },
    {
      name: 'one that is planned as a matrix spike, and says itself that it is none',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        samples: [{ suites: ['VOC', 'Metals'], type: 'normal', planned: '00000000-0000-7000-8000-000000000900' }],
        planned: [{ type: 'matrix-spike' }],
      },
      expect: 'raised',
    },
    {
      name: 'a bottle of which nobody said its suite',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        samples: [{ suites: ['VOC', 'Metals'] }],
        containers: [{}, { suite: undefined }],
      },
      expect: 'silent',
    },
  ],
};
