import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { RuleSource, signsOf } from './rule-source.ts';
import { shapeHash, UNTRACED, wireShape } from './wire-shape.ts';

const isWhole = (value: string): boolean => value.length > 1;
const isOther = (value: string) => value.length > 2;

const FILES = {
  'protocol/shape.ts': `import { least } from '../science/least.ts';
const positive = decimal.refine((value) => Number(value) > 0, { error: 'must be above zero' });
const whole = z.string().refine(isWhole, { error: 'is too short' });
const other = z.string().refine((value) => value.length > 2);
const isWhole = (value: string): boolean => value.length > 1;
const far = z.string().refine((value) => isFar(value));
function isFar(value: string): boolean { return value.length > least(LONGEST); }
const LONGEST = 7;`,
  'science/least.ts': `/** In words. */
export function least(one: number): number { return one + twice(1); }
const twice = (one: number): number => one * 2;
const unused = 4;`,
};

function sourceOf(files: Readonly<Record<string, string>> = FILES): RuleSource {
  return new RuleSource(['protocol/shape.ts'], (file) => files[file] ?? '');
}

function changed(file: keyof typeof FILES, was: string, is: string): RuleSource {
  const text = FILES[file].replace(was, is);
  expect(text).not.toBe(FILES[file]);
  return sourceOf({ ...FILES, [file]: text });
}

function hashOf(schema: z.ZodType, source = sourceOf()): string {
  const message = { direction: 'both', schema: z.strictObject({ name: schema }) } as const;
  return shapeHash(wireShape({ kinds: [], messages: { message } }, source));
}

declare function isFar(value: string): boolean;
const far = (value: string) => isFar(value);

describe('a rule of a shape', () => {
  it('makes it another shape than it is without a rule, and than it is with another one', () => {
    const schemas = [z.string(), z.string().refine(isWhole), z.string().refine(isOther)];
    expect(new Set(schemas.map((schema) => hashOf(schema))).size).toBe(3);
    expect(hashOf(z.string().refine(isWhole, { error: 'in other words' }).describe('x'))).toBe(
      hashOf(schemas[1] as z.ZodType),
    );
  });

  it('counts wherever it stands: in a list, behind a choice, beside other rules', () => {
    const inside = (schema: z.ZodType) => z.array(z.union([schema, z.boolean()])).nullish();
    expect(hashOf(inside(z.string().refine(isWhole)))).not.toBe(hashOf(inside(z.string())));
    const both = z.string().refine(isWhole).refine(isOther);
    expect(hashOf(both)).not.toBe(hashOf(z.string().refine(isWhole)));
    expect(hashOf(both)).not.toBe(hashOf(z.string().refine(isOther)));
  });

  it.each([
    ['a function that it calls', 'protocol/shape.ts', 'value.length > least', 'value.length >= least'],
    ['a number that this one looks at', 'protocol/shape.ts', 'LONGEST = 7', 'LONGEST = 8'],
    ['a function of another file', 'science/least.ts', 'one + twice', 'one - twice'],
    ['what that one calls there', 'science/least.ts', 'one * 2', 'one * 3'],
    ['a bracket that changes what is computed', 'science/least.ts', 'one + twice(1)', '(one + twice)(1)'],
  ] as const)('is another one with %s', (_, file, was, is) => {
    expect(sourceOf().ruleOf(far)).toMatch(/^\(value\) => isFar\(value\) #[0-9a-f]{16}$/);
    expect(changed(file, was, is).ruleOf(far)).not.toBe(sourceOf().ruleOf(far));
    expect(hashOf(z.string().refine(far), changed(file, was, is))).not.toBe(hashOf(z.string().refine(far)));
  });

  it.each([
    ['words about it', 'science/least.ts', 'In words.', 'In other words.'],
    ['a type', 'protocol/shape.ts', 'isFar(value: string): boolean', 'isFar(value: unknown)'],
    ['how it is written', 'science/least.ts', '{ return one + twice(1); }', '{\n  return (one + twice(1,))\n}'],
    ['what it does not use', 'science/least.ts', 'unused = 4', 'unused = 5'],
    ['a rule beside it', 'protocol/shape.ts', 'Number(value) > 0', 'Number(value) > 1'],
  ] as const)('is the same with %s', (_, file, was, is) => {
    expect(changed(file, was, is).ruleOf(far)).toBe(sourceOf().ruleOf(far));
  });

  it('is followed through what takes a declaration apart', () => {
    const apart = (limit: number) => ({
      ...FILES,
      'protocol/shape.ts': FILES['protocol/shape.ts'].replace(
        'const LONGEST = 7',
        'const { longest: [LONGEST] } = LIMITS',
      ),
      'science/least.ts': FILES['science/least.ts'],
      'protocol/limits.ts': `export const LIMITS = { longest: [${limit}] };`,
    });
    const taken = (limit: number) => {
      const files = apart(limit);
      const text = `import { LIMITS } from './limits.ts';\n${files['protocol/shape.ts']}`;
      return sourceOf({ ...files, 'protocol/shape.ts': text }).ruleOf(far);
    };
    expect(taken(7)).toMatch(/ #/);
    expect(taken(8)).not.toBe(taken(7));
  });

  it.each([
    ['by another file', `import { least } from '../science/least.ts'`, `import { least } from '../science/all.ts'`],
    ['as a whole', `import { least } from '../science/least.ts'`, `import least from '../science/least.ts'`],
    ['under one name', `import { least } from '../science/least.ts'`, `import * as least from '../science/least.ts'`],
  ])('fails where what it uses is taken %s, since it would not be followed', (_, was, is) => {
    const files = { ...FILES, 'science/all.ts': `export * from './least.ts';` };
    const text = FILES['protocol/shape.ts'].replace(was, is);
    expect(() => sourceOf({ ...files, 'protocol/shape.ts': text })).toThrow('takes least from science/');
  });

  it('is told where it cannot be traced', () => {
    const shapes = [
      z.string().refine((value) => value.length > 3),
      z.string().superRefine(() => undefined),
      z.string().check(() => undefined),
      z.string().trim(),
      z.string().transform(Number),
      z.custom<string>((value) => value !== 1),
    ].map((schema) =>
      JSON.stringify(wireShape({ kinds: [], messages: { message: { direction: 'sent', schema } } }, sourceOf())),
    );
    expect(shapes.map((shape) => shape.includes(UNTRACED))).toEqual(shapes.map(() => true));
  });

  it('reads alike in its file and as it runs', () => {
    const inFile = signsOf(
      `({ from, until }: Times) => isBefore(from, until) && undefined !== 'it''s'`.replace("''", '’'),
    );
    const running = `({from,until})=>(0,__vite_ssr_import_12__.isBefore)(from, until) && void 0 !== "it’s"`;
    expect(signsOf(running)).toBe(inFile);
    expect(signsOf('(one) => one * (2 + one)')).not.toBe(signsOf('(one) => one * 2 + one'));
  });
});
