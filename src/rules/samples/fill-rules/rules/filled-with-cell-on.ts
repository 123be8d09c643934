import { SAMPLING_RULES } from '../../../../catalog/analytes/sampling-rules.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { aboutSample, filled, labelsText, perSample } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

const { source, verified } = SAMPLING_RULES.cellOff;

export const filledWithCellOn: SampleRule = {
  code: 'filled-with-cell-on',
  title: 'A container was filled with the flow cell still on the line',
  severity: 'caution',
  addressee: 'now',
  source,
  verified,
  methods: null,
  evaluate(facts) {
    return perSample(
      filled(facts).filter(({ fill }) => fill.fields.cellOff === false),
      (sample, its) =>
        aboutSample(
          sample,
          `Filled with the flow cell on the line: ${labelsText(its)}. Take the cell off, or bypass it, and fill them again.`,
          its.map(({ fill }) => fieldEvidence(fill, 'cellOff')),
        ),
    );
  },
  vectors: [
    {
      name: 'the cell was on',
      given: { containers: [{ fill: { cellOff: false } }, { fill: { cellOff: true } }] },
      expect: 'raised',
      says: 'on the line: W-101-1.',
    },
    { name: 'it was off', given: { containers: [{ fill: { cellOff: true } }] }, expect: 'silent' },
    { name: 'nobody said', given: {}, expect: 'silent' },
    {
      name: 'filled again without it',
      given: { containers: [{ fill: [{ cellOff: false }, { at: '10:39', cellOff: true }] }] },
      expect: 'silent',
    },
    {
      name: 'thrown away',
      given: { containers: [{ standing: 'discarded', fill: { cellOff: false } }] },
      expect: 'silent',
    },
  ],
};
