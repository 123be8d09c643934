import { SAMPLING_RULES } from '../../../../catalog/analytes/sampling-rules.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { aboutContainer, filledAgainst } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

const { source, verified } = SAMPLING_RULES.filterFlushed;

export const notFiltered: SampleRule = {
  code: 'not-filtered',
  title: 'A container was not filtered though it is ordered filtered',
  severity: 'caution',
  addressee: 'now',
  source: `${source}: dissolved metals are filtered in the field before the acid`,
  verified,
  methods: null,
  evaluate(facts) {
    return filledAgainst(facts, ({ filtered }, { fill }) => filtered === true && fill.fields.filtered === false).map(
      (one) =>
        aboutContainer(
          one,
          `${one.container.fields.label} was not filtered; ${one.by.group.title} is ordered filtered. Rinse a filter with water of the well, and fill a new one through it.`,
          [fieldEvidence(one.fill, 'filtered')],
        ),
    );
  },
  vectors: [
    {
      name: 'dissolved metals without',
      given: { containers: [{ group: 'metals-dissolved', type: 'bottle', fill: { filtered: false } }] },
      expect: 'raised',
      says: 'is ordered filtered',
    },
    {
      name: 'with',
      given: { containers: [{ group: 'metals-dissolved', type: 'bottle', fill: { filtered: true } }] },
      expect: 'silent',
    },
    { name: 'nobody said', given: { containers: [{ group: 'metals-dissolved', type: 'bottle' }] }, expect: 'silent' },
    {
      name: 'the suite says unfiltered',
      given: {
        suite: [{ group: 'metals-dissolved', filtered: false }],
        containers: [{ group: 'metals-dissolved', type: 'bottle', fill: { filtered: false } }],
      },
      expect: 'silent',
    },
    {
      name: 'the plan filters at this well what may be',
      given: {
        plan: { wells: [{ well: '00000000-0000-7000-8000-000000000006', filtered: true }] },
        containers: [{ group: 'chloride', type: 'bottle', fill: { filtered: false } }],
      },
      expect: 'raised',
    },
    {
      name: 'a bottle for nitrate that serves orthophosphate too',
      given: {
        containers: [{ group: 'nitrate', alsoGroups: ['orthophosphate'], type: 'bottle', fill: { filtered: false } }],
      },
      expect: 'raised',
    },
    { name: 'volatiles', given: { containers: [{ fill: { filtered: false } }] }, expect: 'silent' },
  ],
};
