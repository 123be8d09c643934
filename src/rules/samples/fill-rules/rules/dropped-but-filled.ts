import { fieldEvidence } from '../../../flags/evidence.ts';
import { aboutContainer, fillEvidence } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

export const droppedButFilled: SampleRule = {
  code: 'dropped-but-filled',
  title: 'A container is said to be dropped and to be filled',
  severity: 'question',
  addressee: 'tonight',
  source: 'Arithmetic of the records: dropped is what is never filled',
  verified: true,
  methods: null,
  evaluate(facts) {
    return facts.containers.flatMap((one) => {
      if (one.container.fields.standing !== 'dropped' || one.fill === null) return [];
      return aboutContainer(
        one,
        `${one.container.fields.label} is dropped, yet it was filled. Say which: filled, or discarded after that, or void the fill.`,
        [fieldEvidence(one.container, 'standing'), fillEvidence(one.fill)],
      );
    });
  },
  vectors: [
    { name: 'both', given: { containers: [{ standing: 'dropped' }] }, expect: 'raised', says: 'yet it was filled' },
    { name: 'never filled', given: { containers: [{ standing: 'dropped', fill: null }] }, expect: 'silent' },
    { name: 'discarded after it was filled', given: { containers: [{ standing: 'discarded' }] }, expect: 'silent' },
  ],
};
