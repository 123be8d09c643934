import { z } from 'zod';

/** What a clash of two changes means is decided by the family (SPEC.md, M). */
export type Family = 'fact' | 'observation' | 'claim' | 'derived';

/** A laboratory is outside of the firm: it follows no feed, and sees what is told to it and nothing else. */
export type Role = 'crew' | 'coordinator' | 'dashboard' | 'admin' | 'laboratory';

/**
 * Where a record lives: in the feed of the firm, in a feed that carries its own id (site:ID, event:ID), or wherever
 * the record that one of its fields names lives. `parent` also groups what moves together.
 */
export type Home =
  | { readonly in: 'firm' }
  | { readonly in: 'own'; readonly prefix: 'site' | 'event' }
  | {
      readonly in: 'parent';
      readonly field: string;
      /** The field that names the visit which it follows, where it does not live under that. */
      readonly visit?: string;
      /** Of a fact: the field may be corrected within the feed, as that of an observation may. */
      readonly corrected?: true;
    };

export interface KindDefinition<Shape extends z.ZodRawShape = z.ZodRawShape> {
  readonly name: string;
  /** Last part of its REST address. */
  readonly plural: string;
  readonly family: Family;
  readonly description: string;
  readonly home: Home;
  /** Which fields name other records, and of which kind: they must exist before the record is applied. */
  readonly references: Readonly<Partial<Record<keyof Shape & string, string>>>;
  /** Who may write it; everybody of the firm may read it who follows its feed. */
  readonly writers: readonly Role[];
  readonly fields: z.ZodObject<Shape, z.core.$strict>;
}

export const OFFICE: readonly Role[] = ['coordinator', 'admin'];
export const FIELD: readonly Role[] = ['crew', 'coordinator', 'admin'];
/** What a laboratory says of what it was sent, or whoever reads that from its paper. */
export const FIELD_AND_LABORATORY: readonly Role[] = [...FIELD, 'laboratory'];

export function defineKind<Shape extends z.ZodRawShape>(
  definition: Omit<KindDefinition<Shape>, 'fields'> & { readonly fields: Shape },
): KindDefinition<Shape> {
  return { ...definition, fields: z.strictObject(definition.fields) };
}

/** Whether a correction may name another parent of the same feed: a reading in the wrong purge, a decon of another unit. */
export function mayNameOtherParent({ family, home }: Pick<KindDefinition, 'family' | 'home'>): boolean {
  return home.in === 'parent' && (family === 'observation' || home.corrected === true);
}

/** A field that may be missing; null means the same as missing, and an amendment to null clears it. */
export function maybe<Schema extends z.ZodType>(schema: Schema) {
  return schema.nullish();
}

/** What a record holds once nulls are dropped: a missing field is an unknown, never a null. */
export type FieldsOf<Kind extends { fields: z.ZodType }> = {
  readonly [Key in keyof z.output<Kind['fields']>]: Exclude<z.output<Kind['fields']>[Key], null>;
};
