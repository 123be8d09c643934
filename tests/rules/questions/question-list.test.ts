import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Question } from '../../../src/rules/questions/question.ts';
import { QUESTIONS, questionNamed } from '../../../src/rules/questions/question-list.ts';

/** Examples of the whole input, or one put together from the examples of its fields. */
function examples(question: Question): unknown[] {
  const whole = question.input.meta()?.examples;
  if (Array.isArray(whole) && whole.length > 0) return whole;
  const fields = Object.entries(question.input.shape as Record<string, z.ZodType>);
  return [
    Object.fromEntries(
      fields.flatMap(([name, field]) => {
        const given = field.meta()?.examples;
        return Array.isArray(given) && given.length > 0 ? [[name, given[0]]] : [];
      }),
    ),
  ];
}

const EXPRESSIBLE = new Set(['string', 'boolean', 'integer', 'array', 'object', 'null']);

/** Parts of a JSON schema that a door could not mount: numbers that are no whole numbers, or free-form objects. */
function foreignParts(schema: unknown, at: string): string[] {
  if (typeof schema !== 'object' || schema === null) return [];
  const { type, properties, items, anyOf, additionalProperties } = schema as Record<string, unknown>;
  const own = typeof type === 'string' && !EXPRESSIBLE.has(type) ? [`${at} is a ${type}`] : [];
  const open = type === 'object' && additionalProperties !== false ? [`${at} is an open object`] : [];
  const inside = Object.entries((properties ?? {}) as object).flatMap(([name, part]) =>
    foreignParts(part, `${at}.${name}`),
  );
  const arms = Array.isArray(anyOf) ? anyOf.flatMap((part) => foreignParts(part, at)) : [];
  return [...own, ...open, ...inside, ...arms, ...foreignParts(items, `${at}[]`)];
}

function undescribed(shape: Record<string, z.ZodType>, at: string): string[] {
  return Object.entries(shape).flatMap(([name, field]) => (field.description ? [] : [`${at}.${name}`]));
}

describe('the questions that every door mounts', () => {
  it('has each name once, and in the order of names', () => {
    const names = QUESTIONS.map((question) => question.name);
    expect(names).toEqual([...new Set(names)].toSorted());
    expect(names.filter((name) => !/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/.test(name))).toEqual([]);
    expect(questionNamed('no-such-question')).toBeUndefined();
  });

  it.each(QUESTIONS.map((question) => [question.name, question] as const))('%s is complete', (name, question) => {
    expect(questionNamed(name)).toBe(question);
    expect(question.title.length).toBeGreaterThan(0);
    expect(question.description.length).toBeGreaterThan(0);
    expect(question.sources.length).toBeGreaterThan(0);
    expect(undescribed(question.input.shape, 'input')).toEqual([]);
    expect(undescribed(question.output.shape, 'output')).toEqual([]);
  });

  it.each(QUESTIONS.map((question) => [question.name, question] as const))(
    '%s answers its own examples, and with what it promised',
    (_name, question) => {
      for (const example of examples(question)) {
        const answer = question.answer(question.input.parse(example));
        expect(question.output.parse(answer)).toEqual(answer);
      }
    },
  );

  it.each(QUESTIONS.map((question) => [question.name, question] as const))(
    '%s keeps to what REST and GraphQL can both express',
    (_name, question) => {
      expect(foreignParts(z.toJSONSchema(question.input, { io: 'input' }), 'input')).toEqual([]);
      expect(foreignParts(z.toJSONSchema(question.output, { io: 'input' }), 'output')).toEqual([]);
    },
  );

  it.each(QUESTIONS.map((question) => [question.name, question] as const))(
    '%s refuses a field that it does not know: a misspelt one must not be lost',
    (_name, question) => {
      const misspelt = { ...(examples(question)[0] as object), noSuchField: '1' };
      expect(question.input.safeParse(misspelt).success).toBe(false);
    },
  );
});
