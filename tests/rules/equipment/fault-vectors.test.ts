import { describe, expect, it } from 'vitest';
import { replayVector } from '../../../src/rules/equipment/faults/replay-vector.ts';
import { EQUIPMENT_RULES } from '../../../src/rules/equipment/faults.ts';
import { FLAG_RULES } from '../../../src/rules/flags/flag-rules.ts';

describe.each(EQUIPMENT_RULES)('$code', (rule) => {
  it.each(rule.vectors)('$name: $expect', ({ given, expect: outcome, says }) => {
    const all = replayVector(given);
    const own = all.filter(({ code }) => code === rule.code);
    expect(own).toHaveLength(outcome === 'raised' ? 1 : 0);
    if (says) expect(own[0]?.sentence).toContain(says);
    for (const { sentence, evidence, source } of all) {
      expect(sentence.length).toBeGreaterThan(20);
      expect(evidence.length).toBeGreaterThan(0);
      expect(source.length).toBeGreaterThan(0);
    }
  });

  it('has cases of both outcomes', () => {
    expect(new Set(rule.vectors.map((vector) => vector.expect))).toEqual(new Set(['raised', 'silent']));
  });

  it('tells one cause once: a case that raises it raises nothing else', () => {
    for (const { given, expect: outcome, name } of rule.vectors.filter((one) => one.expect === 'raised')) {
      const codes = replayVector(given).map(({ code }) => code);
      const allowed = name === 'a blank in between that failed' ? [rule.code, 'equipment-blank-failed'] : [rule.code];
      expect({ name, outcome, codes }).toEqual({ name, outcome, codes: allowed });
    }
  });
});

describe('the rules about equipment', () => {
  it('have codes of their own, in order, and none of a flag of a visit', () => {
    const codes = EQUIPMENT_RULES.map(({ code }) => code);
    expect(new Set(codes).size).toBe(codes.length);
    const taken = new Set(FLAG_RULES.map(({ code }) => code));
    expect(codes.filter((code) => taken.has(code))).toEqual([]);
  });

  it('say "possible", and do not stop a crew, where the clocks leave it open', () => {
    const doubtful = EQUIPMENT_RULES.flatMap(({ vectors }) => vectors).filter(({ name }) =>
      name.endsWith(': possible'),
    );
    expect(doubtful.length).toBeGreaterThan(1);
    for (const { given } of doubtful)
      expect(replayVector(given)).toMatchObject([{ certainty: 'possible', addressee: 'tonight' }]);
  });
});
