import fc from 'fast-check';
import { expect, it } from 'vitest';
import { evidenceHash } from '../../../src/rules/flags/evidence.ts';
import { assessmentLike } from '../../../src/rules/flags/flag-vector-assessments.ts';
import { vectorFacts } from '../../../src/rules/flags/vector-bundle.ts';
import { vectorId } from '../../../src/rules/flags/vector-ids.ts';
import { visitFlags } from '../../../src/rules/flags/visit-flags.ts';
import type { VisitBundle } from '../../../src/rules/visit-bundle.ts';

/** A visit with many faults at once, several of them at the same time of day. */
const { bundle: faulty, assessments } = vectorFacts({
  visit: { left: '2026-05-04T12:00:00-05:00', outcome: 'gauged-only' },
  well: { totalDepthFt: '25.3', screenTopFt: '15.3', screenBottomFt: '25.3' },
  nestWells: [
    { name: 'MW-4D', totalDepthFt: '61.8' },
    { name: 'MW-4E', totalDepthFt: '61.4' },
    { name: 'MW-4I', totalDepthFt: '40.0' },
  ],
  pump: { wettedParts: [{ part: 'bladder', material: 'PTFE' }] },
  levels: [
    { depthToWaterFt: '-1.00' },
    { depthToWaterFt: '30.00' },
    { purpose: 'pumping', depthToWaterFt: '31.00' },
    { state: 'flowing' },
  ],
  soundings: [{ depthToBottomFt: '61.6' }, { depthToBottomFt: '40.1' }, { depthToBottomFt: '24.9' }],
  setUps: [{ intakeDepthFt: '24.9' }, { at: '10:40', intakeDepthFt: '29.0' }],
  readings: [
    { ph: '15.2', turbidityNtu: '4' },
    { ph: '14.9', turbidityNtu: '-4' },
    { at: '10:50', depthToWaterFt: '30.0' },
    { at: '10:55', temperatureC: '140' },
  ],
  occurrences: [{ type: 'cell-cleaned' }, { at: '10:52', type: 'meter-swapped' }],
  calls: [{ at: '10:52' }, { at: '10:58', decision: 'not-stable-sampled' }],
  samples: [{ at: '10:31', suites: ['PFAS'] }, { at: '10:59', suites: ['PFAS'] }, { at: '10:33' }],
  assessment: assessmentLike({ drawdown: { status: 'not-steady' }, call: { agreement: 'differs', because: 'pH.' } }),
});

const FORMER: readonly (readonly [string, string, readonly string[]])[] = [
  [vectorId(0x1003), 'ph', ['16', '15']],
  [vectorId(0x1001), 'turbidityFnu', ['3', '4']],
  [vectorId(0x3001), 'decision', ['not-stable-stopped', 'stable']],
  [vectorId(0x202), 'depthToBottomFt', ['61.7', '12.0']],
  [vectorId(0x100), 'depthToWaterFt', ['99.00']],
  [vectorId(0x5), 'outcome', ['sampled']],
];

function shuffled<Item>(items: readonly Item[]): fc.Arbitrary<Item[]> {
  return fc.shuffledSubarray([...items], { minLength: items.length });
}

const anyOrder: fc.Arbitrary<VisitBundle> = fc
  .record({
    nestWells: shuffled(faulty.nestWells),
    levels: shuffled(faulty.levels),
    soundings: shuffled(faulty.soundings),
    setUps: shuffled(faulty.setUps),
    samples: shuffled(faulty.samples),
    former: shuffled(FORMER),
    purges: fc
      .tuple(
        ...faulty.purges.map((one) =>
          fc.record({
            purge: fc.constant(one.purge),
            readings: shuffled(one.readings),
            occurrences: shuffled(one.occurrences),
            calls: shuffled(one.calls),
          }),
        ),
      )
      .map((purges) => [...purges]),
  })
  .map(({ former, ...lists }) => {
    const superseded = new Map(former.map(([record, field, values]) => [record, new Map([[field, values]])]));
    return { ...faulty, ...lists, superseded };
  });

it('flags of a visit do not depend on the order of its lists', () => {
  const former = new Map(FORMER.map(([record, field, values]) => [record, new Map([[field, values]])]));
  const flags = visitFlags({ ...faulty, superseded: former }, assessments);
  expect(flags.filter((flag) => flag.standing === 'raised').length).toBeGreaterThan(6);
  expect(flags.filter((flag) => flag.standing === 'cleared').length).toBeGreaterThan(1);
  fc.assert(
    fc.property(anyOrder, (bundle) => {
      expect(visitFlags(bundle, assessments)).toEqual(flags);
    }),
  );
});

it('the evidence hash does not depend on the order of the evidence, and changes with any of it', () => {
  const piece = fc.record(
    { record: fc.uuid(), field: fc.string({ minLength: 1 }), shows: fc.string() },
    { requiredKeys: ['record'] },
  );
  const both = fc.array(piece, { maxLength: 8 }).chain((all) => fc.tuple(fc.constant(all), shuffled(all)));
  fc.assert(
    fc.property(both, piece, ([all, again], more) => {
      expect(evidenceHash(again)).toBe(evidenceHash(all));
      expect(evidenceHash([...all, ...again])).toBe(evidenceHash(all));
      expect(evidenceHash(all)).toMatch(/^[0-9a-f]{16}$/);
      fc.pre(!all.some((one) => one.record === more.record));
      expect(evidenceHash([...again, more])).not.toBe(evidenceHash(all));
    }),
  );
});
