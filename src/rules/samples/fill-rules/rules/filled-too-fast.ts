import { PUBLICATIONS } from '../../../../catalog/analytes/publications.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { slowestLimit } from '../../asked-of-group.ts';
import { aboutContainer, filled } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

export const filledTooFast: SampleRule = {
  code: 'filled-too-fast',
  title: 'A container was filled faster than its analytes allow',
  severity: 'caution',
  addressee: 'now',
  source: `${PUBLICATIONS.epa1992Filling.source}, for volatiles; ${PUBLICATIONS.fieldManualRates.source}, for bottles of 250 mL and more`,
  verified: true,
  methods: null,
  evaluate(facts) {
    return filled(facts).flatMap((one) => {
      const { container, fill } = one;
      const flow = fill.fields.flowMlPerMin;
      const slowest = slowestLimit(one.served, Number(container.fields.volumeMl), facts.plan);
      if (slowest === null || flow === undefined || !(Number(flow) > slowest.limit.mlPerMin)) return [];
      const { asked, limit } = slowest;
      const { label } = container.fields;
      return aboutContainer(
        one,
        `${label} was filled at ${flow} mL/min; ${asked.group.title}: ${limit.mlPerMin} mL/min at most, by ${limit.source}. Slow the line first, then fill it again.`,
        [fieldEvidence(fill, 'flowMlPerMin')],
      );
    });
  },
  vectors: [
    {
      name: 'a vial at 250 mL/min',
      given: { containers: [{ fill: { flowMlPerMin: '250' } }] },
      expect: 'raised',
      says: '100 mL/min at most',
    },
    { name: 'a vial at 100 mL/min', given: { containers: [{ fill: { flowMlPerMin: '100' } }] }, expect: 'silent' },
    {
      name: 'the plan allows 150',
      given: { plan: { fillRateMlPerMin: { volatiles: '150' } }, containers: [{ fill: { flowMlPerMin: '140' } }] },
      expect: 'silent',
    },
    {
      name: 'the plan allows 80',
      given: { plan: { fillRateMlPerMin: { volatiles: '80' } }, containers: [{ fill: { flowMlPerMin: '100' } }] },
      expect: 'raised',
      says: 'the plan of the event',
    },
    {
      name: 'a bottle of metals at 400 mL/min',
      given: {
        containers: [{ group: 'metals-total', type: 'bottle', volumeMl: '500', fill: { flowMlPerMin: '400' } }],
      },
      expect: 'silent',
    },
    {
      name: 'the same at 600',
      given: {
        containers: [{ group: 'metals-total', type: 'bottle', volumeMl: '500', fill: { flowMlPerMin: '600' } }],
      },
      expect: 'raised',
    },
    {
      name: 'no document limits a small bottle',
      given: { containers: [{ group: 'nitrate', type: 'bottle', volumeMl: '125', fill: { flowMlPerMin: '600' } }] },
      expect: 'silent',
    },
    { name: 'nobody said how fast', given: {}, expect: 'silent' },
    {
      name: 'thrown away',
      given: { containers: [{ standing: 'discarded', fill: { flowMlPerMin: '250' } }] },
      expect: 'silent',
    },
  ],
};
