import { instantMs } from '../../../../science/instant-ms.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { timeOfDay } from '../../../flags/facts/observed-order.ts';
import { aboutContainer, filled } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

export const fillTimesContradict: SampleRule = {
  code: 'fill-times-contradict',
  title: 'A container was collected before its filling began',
  severity: 'question',
  addressee: 'now',
  source: 'Arithmetic of the records: collected is when it was full',
  verified: true,
  methods: null,
  evaluate(facts) {
    return filled(facts).flatMap((one) => {
      const { began, collected } = one.fill.fields;
      if (began === undefined || instantMs(began) <= instantMs(collected)) return [];
      return aboutContainer(
        one,
        `${one.container.fields.label}: filling began at ${timeOfDay(began)}, and it was collected at ${timeOfDay(collected)}, before that. Correct the one that is wrong.`,
        [fieldEvidence(one.fill, 'began'), fieldEvidence(one.fill, 'collected')],
      );
    });
  },
  vectors: [
    {
      name: 'the digits swapped',
      given: { containers: [{ fill: { began: '2026-05-04T10:53:00-05:00' } }] },
      expect: 'raised',
      says: 'began at 10:53',
    },
    {
      name: 'began before',
      given: { containers: [{ fill: { began: '2026-05-04T10:34:00-05:00' } }] },
      expect: 'silent',
    },
    {
      name: 'the same minute',
      given: { containers: [{ fill: { began: '2026-05-04T10:35:00-05:00' } }] },
      expect: 'silent',
    },
    {
      name: 'the same instant with another offset',
      given: { containers: [{ fill: { began: '2026-05-04T11:35:00-04:00' } }] },
      expect: 'silent',
    },
  ],
};
