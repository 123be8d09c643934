import { SAMPLING_RULES } from '../../../../catalog/analytes/sampling-rules.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import type { AskedOfGroup } from '../../asked-of-group.ts';
import { aboutContainer, type Filled, filledAgainst } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

const { source, verified } = SAMPLING_RULES.filterFlushed;

function isCoarse({ poreUm }: AskedOfGroup, { fill: { fields } }: Filled): boolean {
  return fields.filterPoreUm !== undefined && poreUm !== null && Number(fields.filterPoreUm) > Number(poreUm);
}

export const filterTooCoarse: SampleRule = {
  code: 'filter-too-coarse',
  title: 'A container was filtered through larger pores than its analytes are defined by',
  severity: 'question',
  addressee: 'now',
  source,
  verified,
  methods: null,
  evaluate(facts) {
    return filledAgainst(facts, isCoarse).map((one) =>
      aboutContainer(
        one,
        `${one.container.fields.label} went through a filter of ${one.fill.fields.filterPoreUm} micrometres; ${one.by.group.title}: ${one.by.poreUm}. Fill a new one through that, or write down why.`,
        [fieldEvidence(one.fill, 'filterPoreUm')],
      ),
    );
  },
  vectors: [
    {
      name: '5 micrometres for dissolved metals',
      given: {
        containers: [{ group: 'metals-dissolved', type: 'bottle', fill: { filtered: true, filterPoreUm: '5' } }],
      },
      expect: 'raised',
      says: '5 micrometres',
    },
    {
      name: '0.45',
      given: {
        containers: [{ group: 'metals-dissolved', type: 'bottle', fill: { filtered: true, filterPoreUm: '0.45' } }],
      },
      expect: 'silent',
    },
    {
      name: 'finer',
      given: {
        containers: [{ group: 'metals-dissolved', type: 'bottle', fill: { filtered: true, filterPoreUm: '0.1' } }],
      },
      expect: 'silent',
    },
    {
      name: '5 micrometres for a bottle that serves orthophosphate too',
      given: {
        containers: [
          {
            ...{ group: 'nitrate', alsoGroups: ['orthophosphate'], type: 'bottle' },
            fill: { filtered: true, filterPoreUm: '5' },
          },
        ],
      },
      expect: 'raised',
    },
    {
      name: 'not told',
      given: { containers: [{ group: 'metals-dissolved', type: 'bottle', fill: { filtered: true } }] },
      expect: 'silent',
    },
  ],
};
