import { SAMPLING_RULES } from '../../../../catalog/analytes/sampling-rules.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { aboutContainer, filled } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

const { source, verified } = SAMPLING_RULES.filterFlushed;

export const filterTooCoarse: SampleRule = {
  code: 'filter-too-coarse',
  title: 'A container was filtered through larger pores than its analytes are defined by',
  severity: 'question',
  addressee: 'now',
  source,
  verified,
  methods: null,
  evaluate(facts) {
    return filled(facts).flatMap((one) => {
      const pore = one.fill.fields.filterPoreUm;
      const most = one.asked?.poreUm;
      if (pore === undefined || most == null || !(Number(pore) > Number(most))) return [];
      return aboutContainer(
        one,
        `${one.container.fields.label} went through a filter of ${pore} micrometres; ${one.asked?.group.title}: ${most}. Fill a new one through that, or write down why.`,
        [fieldEvidence(one.fill, 'filterPoreUm')],
      );
    });
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
      name: 'not told',
      given: { containers: [{ group: 'metals-dissolved', type: 'bottle', fill: { filtered: true } }] },
      expect: 'silent',
    },
  ],
};
