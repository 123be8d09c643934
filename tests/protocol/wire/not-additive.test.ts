import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { notAdditive, notAdditiveForReaders } from './not-additive.ts';
import { type Direction, shapeHash, wireShape } from './wire-shape.ts';

const before = z.strictObject({
  name: z.string().max(20),
  standing: z.enum(['open', 'closed']),
  remark: z.string().nullish(),
  plan: z.strictObject({
    count: z.int().min(0).max(10).nullish(),
    by: z.partialRecord(z.enum(['a', 'b']), z.string()),
  }),
  list: z.array(z.union([z.string(), z.boolean()])),
});

function shapeOf(schema: z.ZodType, direction: Direction = 'both') {
  return wireShape({ kinds: [], messages: { message: { direction, schema } } });
}

function faults(after: z.ZodType, direction: Direction = 'both'): string[] {
  return notAdditive(shapeOf(before, direction), shapeOf(after, direction));
}

const { plan } = before.shape;

describe('what is more than an addition', () => {
  it('is nothing that only adds', () => {
    expect(faults(before)).toEqual([]);
    const more = before.extend({
      fresh: z.string().optional(),
      name: z.string().max(30),
      standing: z.enum(['open', 'late', 'closed']),
      plan: plan.extend({ option: z.boolean().nullish(), by: z.partialRecord(z.enum(['a', 'b', 'c']), z.string()) }),
      list: z.array(z.union([z.boolean(), z.string(), z.int()])),
    });
    expect(faults(more)).toEqual([]);
  });

  it.each([
    ['a field taken away', before.omit({ remark: true }), 'message/remark was taken away'],
    ['an option taken away', before.extend({ plan: plan.omit({ count: true }) }), 'message/plan/count was taken away'],
    [
      'a value taken away',
      before.extend({ standing: z.enum(['open']) }),
      'message/standing does not know closed any more',
    ],
    ['a field that must be sent', before.extend({ fresh: z.string() }), 'message/fresh is required now'],
    [
      'a field that may be missing',
      before.extend({ name: z.string().max(20).optional() }),
      'message/name may be missing now',
    ],
    ['another type', before.extend({ name: z.int() }), 'message/name is integer now'],
    ['a shorter text', before.extend({ name: z.string().max(19) }), 'message/name has maxLength 19 now, before 20'],
    ['a form', before.extend({ name: z.string().max(20).regex(/a/) }), 'message/name has another pattern'],
    ['a list in place of any text', before.extend({ name: z.enum(['a']) }), 'message/name takes only a now'],
    ['no null any more', before.extend({ remark: z.string().optional() }), 'message/remark is string now, before null'],
    [
      'a higher least number',
      before.extend({ plan: plan.extend({ count: z.int().min(1).max(10).nullish() }) }),
      'message/plan/count has minimum 1 now, before 0',
    ],
    [
      'a key taken away',
      before.extend({ plan: plan.extend({ by: z.partialRecord(z.enum(['a']), z.string()) }) }),
      'message/plan/by/propertyNames does not know b any more',
    ],
    [
      'a choice taken away',
      before.extend({ list: z.array(z.string()) }),
      'message/list/items is string now, before boolean',
    ],
  ])('is %s', (_, after, said) => {
    expect(faults(after).join('\n')).toContain(said);
  });

  it('looks at each direction for what matters there', () => {
    const needed = before.extend({ fresh: z.string() });
    const maybe = before.extend({ name: z.string().max(20).optional() });
    expect([faults(needed, 'told'), faults(maybe, 'sent')]).toEqual([[], []]);
    expect(faults(needed, 'sent')).toHaveLength(1);
    expect(faults(maybe, 'told')).toHaveLength(1);
  });

  it('counts a message that is gone, and with a lens only what readers lose', () => {
    const none = wireShape({ kinds: [], messages: {} });
    expect(notAdditive(shapeOf(before), none)).toEqual(['message was taken away']);
    const renamed = shapeOf(before.omit({ name: true }).extend({ title: z.string() }), 'both');
    expect(notAdditiveForReaders(shapeOf(before), renamed)).toEqual(['message/name was taken away']);
    expect(notAdditiveForReaders(shapeOf(before, 'sent'), renamed)).toEqual([]);
  });

  it('has a hash that words do not change and that every shape does', () => {
    const hashes = [
      before,
      before.extend({ name: z.string().max(20).describe('in words') }),
      before.extend({ description: z.string().optional() }),
      before.extend({ name: z.string().max(21) }),
    ].map((schema) => shapeHash(shapeOf(schema)));
    expect(hashes[1]).toBe(hashes[0]);
    expect(new Set(hashes).size).toBe(3);
  });
});
