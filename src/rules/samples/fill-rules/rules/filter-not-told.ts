import { PUBLICATIONS } from '../../../../catalog/analytes/publications.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { aboutContainer, filledAgainst } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

export const filterNotTold: SampleRule = {
  code: 'filter-not-told',
  title: 'Nobody said whether a container ordered filtered was filtered',
  severity: 'question',
  addressee: 'tonight',
  source: `${PUBLICATIONS.region1Page8.source}; the record of a sample says whether it was filtered`,
  verified: true,
  methods: null,
  evaluate(facts) {
    return filledAgainst(
      facts,
      ({ filtered }, { fill }) => filtered === true && fill.fields.filtered === undefined,
    ).map((one) =>
      aboutContainer(
        one,
        `${one.container.fields.label} is ordered filtered (${one.by.group.title}), and its record does not say whether it was. Say it, with the pore size.`,
        [fieldEvidence(one.fill, 'filtered')],
      ),
    );
  },
  vectors: [
    {
      name: 'dissolved metals, nothing said',
      given: { containers: [{ group: 'metals-dissolved', type: 'bottle' }] },
      expect: 'raised',
      says: 'does not say',
    },
    {
      name: 'said',
      given: { containers: [{ group: 'metals-dissolved', type: 'bottle', fill: { filtered: true } }] },
      expect: 'silent',
    },
    {
      name: 'said that it was not',
      given: { containers: [{ group: 'metals-dissolved', type: 'bottle', fill: { filtered: false } }] },
      expect: 'silent',
    },
    {
      name: 'a bottle for nitrate that serves orthophosphate too',
      given: { containers: [{ group: 'nitrate', alsoGroups: ['orthophosphate'], type: 'bottle' }] },
      expect: 'raised',
    },
    { name: 'volatiles, nothing said', given: {}, expect: 'silent' },
  ],
};
