import { z } from 'zod';
import type { KindDefinition } from '../../protocol/kind.ts';
import { KINDS } from '../../protocol/kinds-by-name.ts';
import { deviceClock, mutation } from '../../protocol/mutation.ts';
import { id, instant } from '../../protocol/primitives.ts';
import type { OneShot } from '../one-shot.ts';
import { count } from './list-shapes.ts';

/** well-alias -> WellAlias, for names of operations and schemas. */
export function pascal(name: string): string {
  return name.replace(/(?:^|-)([a-z])/g, (_, letter: string) => letter.toUpperCase());
}

const { reason, by, requires, clock } = mutation.shape;

/** What a change may say beside the fields of its kind. */
export const manner = {
  reason: reason.describe('Why; needed to correct what was observed'),
  by,
  requires: requires.describe('Records that must be here first; the change waits for them'),
  clock,
} as const;

/** What a body says of a change rather than of the record. */
export type Manner = Pick<OneShot, 'reason' | 'by' | 'requires' | 'clock'>;

/** Takes apart what a body says of the record and what it says of the change. */
export function split(body: object): { set: Record<string, unknown>; manner: Manner } {
  const names = Object.keys(manner);
  const entries = Object.entries(body).filter(([, value]) => value !== undefined);
  const set = Object.fromEntries(entries.filter(([name]) => !names.includes(name)));
  return { set, manner: Object.fromEntries(entries.filter(([name]) => names.includes(name))) };
}

export const base = z
  .strictObject(
    { rev: z.int().min(1).max(Number.MAX_SAFE_INTEGER) },
    {
      error: ({ code }) =>
        code === 'invalid_type'
          ? 'an object such as {"rev":1} is expected, with the revision that you had seen'
          : undefined,
    },
  )
  .optional()
  .describe('The revision that you had seen, where no If-Match says it: what others changed since is merged');

export const voidBody = z
  .strictObject({ ...manner, reason: mutation.shape.reason.unwrap().describe('Why'), base })
  .meta({ id: 'Voiding' });

const stampedClock = deviceClock
  .extend({
    differenceMs: z.int().describe('Server time minus device time'),
    uncertaintyMs: z.int(),
  })
  .meta({ id: 'StampedClock' });

function recordShape(kind: KindDefinition, fields: z.ZodType) {
  return z
    .strictObject({
      kind: z.literal(kind.name),
      id,
      rev: count,
      voided: z.strictObject({ reason: z.string(), by: id.nullable() }).nullable(),
      by: id.nullable().describe('The member on whose behalf it was last changed; null where the server derived it'),
      client: id.nullable(),
      mutation: count.nullable(),
      reason: z.string().nullable(),
      clock: stampedClock.nullable(),
      afterAssignment: z
        .strictObject({ assignment: id, ended: instant })
        .optional()
        .describe('Written by a crew whose assignment had ended, which its phone could not know'),
      carriedBy: z
        .array(
          z.strictObject({
            device: id.nullable(),
            token: id.optional().describe('Where it was a token of no device'),
            right: z.boolean().describe('Whether it had a right of its own where it wrote'),
            rev: count.describe('The last revision that it brought'),
          }),
        )
        .optional()
        .describe('Who handed in copies of what another device captured'),
      fields,
    })
    .meta({ id: pascal(kind.name), description: kind.description });
}

function historyShape(kind: KindDefinition, record: z.ZodType) {
  const change = z.strictObject({ field: z.string(), was: z.unknown().optional(), is: z.unknown().optional() });
  const entry = z.strictObject({
    feed: z.string(),
    seq: count,
    rev: count,
    receivedAt: instant,
    client: id.nullable(),
    mutation: count.nullable(),
    clock: stampedClock
      .nullable()
      .describe('Of the device, when it captured this change, beside receivedAt; null where no device says'),
    changes: z.array(change).describe('What differs from the entry before'),
    record: record.nullable().describe('The state as it was; null where the record left this feed'),
  });
  return z.strictObject({ items: z.array(entry), next: z.string().nullable() }).meta({
    id: `${pascal(kind.name)}History`,
  });
}

/** The bodies of a kind, all made from its one definition. */
export interface KindShapes {
  readonly record: z.ZodType;
  readonly page: z.ZodType;
  readonly history: z.ZodType;
  readonly toRecord: z.ZodType;
  readonly toAmend: z.ZodType;
}

function shapesOf(kind: KindDefinition): KindShapes {
  const name = pascal(kind.name);
  const record = recordShape(kind, kind.fields.meta({ id: `${name}Fields` }));
  // a correction of what was observed says why
  const why = kind.family === 'observation' ? { reason: mutation.shape.reason.unwrap().describe('Why') } : {};
  return {
    record,
    page: z.strictObject({ items: z.array(record), next: z.string().nullable() }).meta({ id: `${name}Page` }),
    history: historyShape(kind, record),
    toRecord: z
      .strictObject({ ...kind.fields.shape, id: id.optional(), ...manner })
      .meta({ id: `New${name}`, description: kind.description }),
    toAmend: z
      .strictObject({ ...kind.fields.partial().shape, base, ...manner, ...why })
      .meta({ id: `${name}Amendment` }),
  };
}

const known = new Map<string, KindShapes>();

export function kindShapes(kind: KindDefinition): KindShapes {
  const shapes = known.get(kind.name) ?? shapesOf(kind);
  known.set(kind.name, shapes);
  return shapes;
}

/** Fields and manner share one object in a body, so no kind that is written so may have a field of such a name. */
export function clashesWithManner(kind: KindDefinition): string[] {
  return ['id', 'base', ...Object.keys(manner)].filter((name) => name in kind.fields.shape);
}

/** A resolution is made by resolving a conflict; derived kinds are made by the server. */
export const WRITABLE_KINDS: readonly KindDefinition[] = KINDS.filter(
  (kind) => kind.family !== 'derived' && kind.name !== 'resolution',
);
