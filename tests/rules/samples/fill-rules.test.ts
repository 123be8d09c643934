import { describe, expect, it } from 'vitest';
import { analyteSuite } from '../../../src/protocol/kinds/analyte-suite.ts';
import { container } from '../../../src/protocol/kinds/container.ts';
import { fill } from '../../../src/protocol/kinds/fill.ts';
import { flag } from '../../../src/protocol/kinds/flag.ts';
import { EVERY_RULE } from '../../../src/rules/flag-catalogue.ts';
import { evidenceHash } from '../../../src/rules/flags/evidence.ts';
import { vectorId } from '../../../src/rules/flags/vector-ids.ts';
import { LABEL_RULE, labelFlags } from '../../../src/rules/samples/fill-rules/label-twice.ts';
import { sampleFlags } from '../../../src/rules/samples/fill-rules/sample-flags.ts';
import { SAMPLE_RULES } from '../../../src/rules/samples/fill-rules/sample-rules.ts';
import { vectorSampleRecords } from '../../../src/rules/samples/fill-rules/vector-facts.ts';

describe.each(SAMPLE_RULES)('sample rule $code', (rule) => {
  it.each(rule.vectors)('$expect: $name', ({ given, expect: outcome, says }) => {
    const raised = sampleFlags(vectorSampleRecords(given)).filter((one) => one.rule === rule.code);
    expect(raised).toHaveLength(outcome === 'raised' ? 1 : 0);
    for (const one of raised) {
      expect(one.sentence).toContain(says ?? '');
      expect(one.evidence.length).toBeGreaterThan(0);
      const fields = { ...one, evidenceHash: evidenceHash(one.evidence) };
      expect(flag.fields.safeParse(fields).error).toBeUndefined();
    }
  });

  it('has cases for both sides', () => {
    expect(new Set(rule.vectors.map((vector) => vector.expect))).toEqual(new Set(['raised', 'silent']));
  });

  it('is given records as phones write them', () => {
    for (const { given } of rule.vectors) {
      const { containers, fills, suites } = vectorSampleRecords(given);
      for (const { fields } of containers) expect(container.fields.safeParse(fields).error).toBeUndefined();
      for (const { fields } of fills) expect(fill.fields.safeParse(fields).error).toBeUndefined();
      for (const { fields } of suites) expect(analyteSuite.fields.safeParse(fields).error).toBeUndefined();
    }
  });

  it('says nothing of a visit that was voided, nor of what was', () => {
    const voided = { reason: 'Not ours', by: null };
    for (const { given } of rule.vectors) {
      const records = vectorSampleRecords(given);
      const gone = <Of>(list: readonly Of[]) => list.map((one) => ({ ...one, voided }));
      const { visit, samples, containers } = records;
      if (visit) expect(sampleFlags({ ...records, visit: { ...visit, voided } })).toEqual([]);
      expect(sampleFlags({ ...records, samples: gone(samples), containers: gone(containers) })).toEqual([]);
    }
  });

  it('never fires on a visit by another method', () => {
    const others = ['low-flow', 'volume', 'dry-well', 'passive', 'flowing', 'gauging'] as const;
    for (const method of others.filter((one) => rule.methods !== null && !rule.methods.includes(one)))
      for (const { given } of rule.vectors) {
        const flags = sampleFlags(vectorSampleRecords({ ...given, visit: { ...given.visit, method } }));
        expect(flags.map((one) => one.rule)).not.toContain(rule.code);
      }
  });

  it('comes to the same in whatever order the records are given', () => {
    for (const { given } of rule.vectors) {
      const records = vectorSampleRecords(given);
      const turned = Object.fromEntries(
        Object.entries(records).map(([name, list]) => [name, Array.isArray(list) ? list.toReversed() : list]),
      ) as unknown as typeof records;
      expect(sampleFlags(turned)).toEqual(sampleFlags(records));
    }
  });
});

it('asks nothing of an ordinary sample', () => {
  const left = { left: '2026-05-04T11:00:00-05:00', outcome: 'sampled' as const };
  const good = { cellOff: true, filtered: false, bubble: false, flowMlPerMin: '90', preserved: true };
  expect(
    sampleFlags(
      vectorSampleRecords({ plan: {}, visit: left, containers: [{ fill: good }, { fill: good }, { fill: good }] }),
    ),
  ).toEqual([]);
});

it('tells what can no longer be mended at the well tonight', () => {
  const cell = { containers: [{ fill: { cellOff: false } }] };
  const addressees = (visit: object) =>
    sampleFlags(vectorSampleRecords({ ...cell, visit })).map((one) => one.addressee);
  expect(addressees({})).toEqual(['now']);
  expect(addressees({ left: '2026-05-04T11:00:00-05:00' })).toEqual(['tonight']);
});

describe('label rule', () => {
  it.each(LABEL_RULE.vectors)('$name', ({ given, expect: says }) => {
    const containers = given.map(([label, standing = 'filled'], index) => {
      return { id: vectorId(index), voided: null, fields: { label, standing, group: 'volatiles' } };
    });
    const flags = labelFlags(vectorId(99), containers);
    expect(flags).toHaveLength(says === null ? 0 : 1);
    for (const one of flags) expect(one.sentence).toContain(says);
  });
});

it('stands in the catalogue with its source', () => {
  const told = EVERY_RULE.filter(({ about }) => about === 'sample').map(({ code }) => code);
  expect(told.toSorted()).toEqual([...SAMPLE_RULES.map(({ code }) => code), LABEL_RULE.code].toSorted());
  for (const { source, verified } of SAMPLE_RULES) if (source.includes('from memory')) expect(verified).toBe(false);
});
