import { expect, it } from 'vitest';
import { filled } from '../../../src/rules/samples/fill-rules/parts.ts';
import { sampleFacts } from '../../../src/rules/samples/fill-rules/sample-facts.ts';
import { vectorSampleRecords } from '../../../src/rules/samples/fill-rules/vector-facts.ts';

it('finds what is full once for all the rules that look at a visit, and anew for other containers', () => {
  const given = { containers: [{}, { standing: 'dropped', fill: null }] } as const;
  const facts = sampleFacts(vectorSampleRecords(given));
  expect(filled(facts)).toHaveLength(1);
  expect(filled(facts)).toBe(filled({ ...facts }));
  const discarded = facts.containers.map((one) => ({ ...one, isFull: false }));
  expect(filled({ ...facts, containers: discarded })).toEqual([]);
});
