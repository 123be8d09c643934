import { fieldEvidence } from '../../../flags/evidence.ts';
import type { AskedOfGroup } from '../../asked-of-group.ts';
import { aboutContainer } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

function isSame(one: readonly string[], other: readonly string[]): boolean {
  return one.length === other.length && one.every((each) => other.includes(each));
}

/** What takes chlorine away may be in it as well. */
function isAllowed(asked: AskedOfGroup, its: readonly string[]): boolean {
  const besides = asked.group.preservation.ifChlorinated?.add;
  const without = its.filter((one) => one !== besides);
  const sets = asked.preservatives.length === 0 ? [[]] : asked.preservatives;
  return sets.some((set) => isSame(set, its) || isSame(set, without));
}

export const wrongPreservative: SampleRule = {
  code: 'wrong-preservative',
  title: 'A container has another preservative in it than its analytes may have',
  severity: 'caution',
  addressee: 'now',
  source: '40 CFR 136.3, Table II, and the order of the project, by the group of analytes of the catalog',
  verified: true,
  methods: null,
  evaluate(facts) {
    return facts.containers.flatMap((one) => {
      const its = one.container.fields.preservatives ?? [];
      const by = one.isFull && its.length > 0 ? one.served.find((asked) => !isAllowed(asked, its)) : undefined;
      if (!by) return [];
      const choices = by.preservatives.map((all) => all.join(' and ')).join(', or ');
      return aboutContainer(
        one,
        `${one.container.fields.label} has ${its.join(' and ').replaceAll('-', ' ')} in it; ${by.group.title} takes ${choices === '' ? 'none' : choices.replaceAll('-', ' ')}. Fill the right container, and discard this one.`,
        [fieldEvidence(one.container, 'preservatives')],
      );
    });
  },
  vectors: [
    {
      name: 'nitric acid for volatiles',
      given: { containers: [{ preservatives: ['nitric-acid'] }] },
      expect: 'raised',
      says: 'has nitric acid in it',
    },
    {
      name: 'acid for nitrate',
      given: { containers: [{ group: 'nitrate', type: 'bottle', preservatives: ['sulfuric-acid'] }] },
      expect: 'raised',
      says: 'takes none',
    },
    { name: 'hydrochloric acid for volatiles', given: {}, expect: 'silent' },
    {
      name: 'with what takes chlorine away',
      given: { containers: [{ preservatives: ['hydrochloric-acid', 'sodium-thiosulfate'] }] },
      expect: 'silent',
    },
    {
      name: 'acid for ammonia in a bottle that serves chloride too',
      given: {
        containers: [{ group: 'ammonia', alsoGroups: ['nitrate'], type: 'bottle', preservatives: ['sulfuric-acid'] }],
      },
      expect: 'raised',
      says: 'takes none',
    },
    { name: 'nothing in it', given: { containers: [{ preservatives: [] }] }, expect: 'silent' },
    {
      name: 'not filled yet',
      given: { containers: [{ standing: 'expected', fill: null, preservatives: ['nitric-acid'] }] },
      expect: 'silent',
    },
    {
      name: 'as the project asks for it',
      given: {
        suite: [
          {
            group: 'volatiles',
            preservatives: ['sodium-bisulfate'],
            reason: 'By the laboratory',
            approvedBy: 'R. Ito',
          },
        ],
        containers: [{ preservatives: ['sodium-bisulfate'] }],
      },
      expect: 'silent',
    },
  ],
};
