import { createHash } from 'node:crypto';
import { z } from 'zod';
import { canonicalText } from '../../../src/protocol/content-hash.ts';
import type { KindDefinition } from '../../../src/protocol/kind.ts';
import { ownRules, type RuleSource } from './rule-source.ts';

export type JsonSchema = { readonly [name: string]: unknown };

/** Who makes what has this shape: a phone, the server, or both. */
export type Direction = 'sent' | 'told' | 'both';

export interface Shape {
  readonly direction: Direction;
  readonly schema: JsonSchema;
}

/** Every shape on the wire, by name. */
export type WireShape = Readonly<Record<string, Shape>>;

export interface WireSchemas {
  readonly kinds: readonly KindDefinition[];
  readonly messages: Readonly<Record<string, { readonly direction: Direction; readonly schema: z.ZodType }>>;
}

/** What is said to people and not to programs. */
const WORDS = ['description', 'title', 'examples', '$schema', 'id'];

/** A schema without its words, and without its `properties` mistaken for them. */
function bare(schema: unknown, areProperties = false): unknown {
  if (Array.isArray(schema)) return schema.map((one) => bare(one));
  if (typeof schema !== 'object' || schema === null) return schema;
  const kept = Object.entries(schema).filter(([name]) => areProperties || !WORDS.includes(name));
  return Object.fromEntries(kept.map(([name, value]) => [name, bare(value, !areProperties && name === 'properties')]));
}

/** Said of a rule whose function is not found: what it asks for is not in the shape. */
export const UNTRACED = 'a rule that cannot be traced';

type Rule = (...values: never[]) => unknown;

const OF_FUNCTIONS = ['custom', 'overwrite', 'pipe', 'transform'];

/** A schema of JSON says nothing of what functions ask for or make of a value. */
function rulesOf(schema: z.core.$ZodType, source: RuleSource): string[] {
  const { def } = schema._zod;
  const parts = [def as { type: string; fn?: Rule }, ...(def.checks ?? []).map((check) => check._zod.def)];
  const functions = parts.filter((part) => OF_FUNCTIONS.includes('check' in part ? String(part.check) : part.type));
  return functions.map((part) => ('fn' in part && part.fn ? source.ruleOf(part.fn as Rule) : undefined) ?? UNTRACED);
}

function schemaOf(schema: z.ZodType, source: RuleSource): JsonSchema {
  const override = ({ zodSchema, jsonSchema }: { zodSchema: z.core.$ZodType; jsonSchema: JsonSchema }) => {
    const rules = rulesOf(zodSchema, source);
    if (rules.length > 0) Object.assign(jsonSchema, { rules });
  };
  return bare(
    z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any', reused: 'inline', override }),
  ) as JsonSchema;
}

export function wireShape({ kinds, messages }: WireSchemas, source = ownRules()): WireShape {
  const ofKinds = kinds.map((kind): [string, Shape] => {
    const direction = kind.family === 'derived' || kind.name === 'resolution' ? 'told' : 'both';
    return [`kind ${kind.name}`, { direction, schema: schemaOf(kind.fields, source) }];
  });
  const ofMessages = Object.entries(messages).map(([name, { direction, schema }]): [string, Shape] => {
    return [name, { direction, schema: schemaOf(schema, source) }];
  });
  return Object.fromEntries([...ofKinds, ...ofMessages]);
}

/** The same for the same shapes, however their files are written. */
export function shapeHash(shape: WireShape): string {
  return createHash('sha256').update(canonicalText(shape)).digest('hex');
}
