import { describe, expect, it } from 'vitest';
import { flag } from '../../../src/protocol/kinds/flag.ts';
import { evidenceHash } from '../../../src/rules/flags/evidence.ts';
import { FLAG_CATALOGUE, FLAG_RULES } from '../../../src/rules/flags/flag-rules.ts';
import { vectorFacts } from '../../../src/rules/flags/vector-bundle.ts';
import { visitFlags } from '../../../src/rules/flags/visit-flags.ts';

describe.each(FLAG_RULES)('flag rule $code', (rule) => {
  it.each(rule.vectors)('$expect: $name', ({ given, expect: outcome, says }) => {
    const { bundle, assessments } = vectorFacts(given);
    const raised = visitFlags(bundle, assessments).filter((one) => one.rule === rule.code);
    expect(raised).toHaveLength(outcome === 'raised' ? 1 : 0);
    for (const one of raised) {
      expect(one.sentence).toContain(says ?? '');
      expect(one.evidence.length).toBeGreaterThan(0);
      expect(one.standing).toBe('raised');
      const fields = { ...one, evidenceHash: evidenceHash(one.evidence) };
      expect(flag.fields.safeParse(fields).error).toBeUndefined();
    }
  });

  it('has cases for both sides', () => {
    const outcomes = new Set(rule.vectors.map((vector) => vector.expect));
    expect([...outcomes].toSorted()).toEqual(['raised', 'silent']);
  });

  it('never fires on a visit by another method', () => {
    const others = ['low-flow', 'volume', 'dry-well', 'passive', 'flowing', 'gauging'] as const;
    for (const method of others.filter((one) => !rule.methods.includes(one)))
      for (const { given } of rule.vectors) {
        const { bundle, assessments } = vectorFacts({ ...given, visit: { ...given.visit, method } });
        expect(visitFlags(bundle, assessments).map((one) => one.rule)).not.toContain(rule.code);
      }
  });
});

describe('flag catalogue', () => {
  it('gives each rule a code of its own, a title and a source', () => {
    const codes = FLAG_CATALOGUE.map((rule) => rule.code);
    expect(new Set(codes).size).toBe(codes.length);
    for (const { code, title, source } of FLAG_CATALOGUE) {
      expect(code).toMatch(/^[a-z]+(?:-[a-z]+)+$/);
      expect(title.length).toBeGreaterThan(10);
      expect(source.length).toBeGreaterThan(10);
    }
  });

  it('says that a recalled figure is not verified', () => {
    for (const { source, verified } of FLAG_CATALOGUE) if (source.includes('from memory')) expect(verified).toBe(false);
  });

  it('lets rules yield only to rules that exist, and never in a ring', () => {
    const byCode = new Map(FLAG_RULES.map((rule) => [rule.code, rule]));
    const yields = (code: string, seen: readonly string[]): void => {
      expect(seen).not.toContain(code);
      const rule = byCode.get(code);
      expect(rule).toBeDefined();
      for (const other of rule?.yieldsTo ?? []) yields(other, [...seen, code]);
    };
    for (const { code } of FLAG_RULES) yields(code, []);
  });
});
