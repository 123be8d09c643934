import { expect, it } from 'vitest';
import { vectorId } from '../../../src/rules/flags/vector-ids.ts';
import { sampleFlags } from '../../../src/rules/samples/fill-rules/sample-flags.ts';
import { vectorSampleRecords } from '../../../src/rules/samples/fill-rules/vector-facts.ts';

const PLANNED = vectorId(0x900);

it.each([
  ['qc-sample-without-parent', 'matrix-spike'],
  ['blind-duplicate-without-time', 'blind-duplicate'],
] as const)('%s is asked by the plan of a %s, which stands in its evidence', (rule, type) => {
  const [, taken] = vectorSampleRecords({ samples: [{}, {}] }).samples;
  const given = { samples: [{}, { planned: PLANNED }], planned: [{ type }] };
  const flag = sampleFlags(vectorSampleRecords(given)).find((one) => one.rule === rule);
  expect(flag?.evidence).toContainEqual({ record: PLANNED, field: 'type', shows: type });
  expect(flag?.evidence).toContainEqual({ record: taken?.id, field: 'type' });
  const own = sampleFlags(vectorSampleRecords({ samples: [{}, { planned: PLANNED, type }], planned: [{ type }] }));
  expect(own.find((one) => one.rule === rule)?.evidence.map(({ record }) => record)).not.toContain(PLANNED);
});
