import { SAMPLING_RULES } from '../../../../catalog/analytes/sampling-rules.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { aboutContainer, filledAgainst } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

export const filteredButMustNot: SampleRule = {
  code: 'filtered-but-must-not',
  title: 'A container was filtered whose analytes must not be',
  severity: 'caution',
  addressee: 'now',
  source: `${SAMPLING_RULES.neverFiltered.source}; ${SAMPLING_RULES.filteredIsNotTotal.source}`,
  verified: true,
  methods: null,
  evaluate(facts) {
    return filledAgainst(facts, ({ filtered }, { fill }) => filtered === false && fill.fields.filtered === true).map(
      (one) =>
        aboutContainer(
          one,
          `${one.container.fields.label} was filtered; ${one.by.group.title} is taken unfiltered. Fill it again without the filter, or have the plan say why it is filtered.`,
          [fieldEvidence(one.fill, 'filtered')],
        ),
    );
  },
  vectors: [
    {
      name: 'volatiles through a filter',
      given: { containers: [{ fill: { filtered: true } }] },
      expect: 'raised',
      says: 'taken unfiltered',
    },
    {
      name: 'a suite that asks for it does not make it right',
      given: { suite: [{ group: 'volatiles', filtered: true }], containers: [{ fill: { filtered: true } }] },
      expect: 'raised',
    },
    {
      name: 'total metals',
      given: { containers: [{ group: 'metals-total', type: 'bottle', fill: { filtered: true } }] },
      expect: 'raised',
    },
    {
      name: 'total metals that the suite asks for filtered',
      given: {
        suite: [{ group: 'metals-total', filtered: true }],
        containers: [{ group: 'metals-total', type: 'bottle', fill: { filtered: true } }],
      },
      expect: 'silent',
    },
    {
      name: 'dissolved metals',
      given: { containers: [{ group: 'metals-dissolved', type: 'bottle', fill: { filtered: true } }] },
      expect: 'silent',
    },
    {
      name: 'semivolatiles with no reason given',
      given: { containers: [{ group: 'semivolatiles', type: 'bottle', fill: { filtered: true } }] },
      expect: 'raised',
    },
    {
      name: 'chloride may be either',
      given: { containers: [{ group: 'chloride', type: 'bottle', fill: { filtered: true } }] },
      expect: 'silent',
    },
    {
      name: 'a bottle for nitrate that serves suspended solids too',
      given: {
        containers: [{ group: 'nitrate', alsoGroups: ['suspended-solids'], type: 'bottle', fill: { filtered: true } }],
      },
      expect: 'raised',
      says: 'is taken unfiltered',
    },
    {
      name: 'the group that it serves too is ordered filtered by another suite of the sample',
      given: {
        samples: [{ suites: ['Ions', 'VOC'] }],
        suite: [{ group: 'suspended-solids', filtered: true }],
        containers: [
          {
            ...{ group: 'nitrate', alsoGroups: ['suspended-solids'], suite: 'Ions', type: 'bottle' },
            fill: { filtered: true },
          },
        ],
      },
      expect: 'silent',
    },
    { name: 'not filtered', given: { containers: [{ fill: { filtered: false } }] }, expect: 'silent' },
  ],
};
