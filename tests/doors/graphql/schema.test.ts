import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import type { GraphQLInputObjectType, GraphQLObjectType } from 'graphql';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { RECORD_FIELDS } from '../../../src/doors/graphql/record-interface.ts';
import { graphSchema } from '../../../src/doors/graphql/schema.ts';
import { enumName, fieldsOf } from '../../../src/doors/graphql/shapes.ts';
import { camel, pascal } from '../../../src/doors/graphql/type-names.ts';
import { KINDS } from '../../../src/protocol/kinds-by-name.ts';
import { RELATIONS } from '../../../src/store/read/record-relations.ts';
import { graphql } from './graphql-of-mercurius.ts';

const FIXTURE = path.join(import.meta.dirname, '../../fixtures/schema.graphql');
const schema = graphSchema();
const objectNamed = (name: string) => schema.getType(name) as GraphQLObjectType;
const inputNamed = (name: string) => schema.getType(name) as GraphQLInputObjectType;
const written = KINDS.filter((kind) => kind.family !== 'derived' && kind.name !== 'resolution');

describe('the schema', () => {
  // the formatter has its own way with the file: what it says is compared, not how it is laid out
  it('is the one that is checked in: UPDATE_FIXTURES=1 writes it anew, to be formatted and its changes looked at', () => {
    const text = graphql.printSchema(schema);
    if (process.env.UPDATE_FIXTURES) writeFileSync(FIXTURE, text);
    const said = (document: string) => graphql.print(graphql.parse(document));
    expect(said(text)).toBe(said(readFileSync(FIXTURE, 'utf8')));
  });

  it('is lawful GraphQL', () => {
    expect(graphql.validateSchema(schema)).toEqual([]);
  });

  it.each(KINDS.map((kind) => [kind.name, kind] as const))('gives out every field of a %s', (name, kind) => {
    const type = objectNamed(pascal(name));
    expect(type.getInterfaces().map(String)).toContain('Record');
    const fields = Object.keys(type.getFields());
    expect(fields).toEqual(expect.arrayContaining([...Object.keys(kind.fields.shape), ...RECORD_FIELDS]));
    const query = objectNamed('Query').getFields();
    expect(String(query[camel(name)]?.type)).toBe(pascal(name));
    expect(String(query[camel(kind.plural)]?.type)).toBe(`${pascal(name)}Connection!`);
  });

  it('has one field that is of the record as well as of its kind, and says the same in both', () => {
    const shared = KINDS.flatMap((kind) =>
      Object.keys(kind.fields.shape).flatMap((field) => (RECORD_FIELDS.includes(field) ? `${kind.name} ${field}` : [])),
    );
    expect(shared).toEqual(['resolution reason']);
  });

  it.each(written.map((kind) => [kind.name, kind] as const))('takes every field of a %s', (name, kind) => {
    const mutation = objectNamed('Mutation').getFields();
    for (const verb of ['record', 'amend', 'void']) expect(mutation).toHaveProperty(`${verb}${pascal(name)}`);
    const input = inputNamed(`${pascal(name)}Input`).getFields();
    const change = inputNamed(`${pascal(name)}Amendment`).getFields();
    for (const { name: field, required } of fieldsOf(kind.fields)) {
      expect([field, String(input[field]?.type).endsWith('!')]).toEqual([field, required]);
      expect([field, String(change[field]?.type).endsWith('!')]).toEqual([field, false]);
    }
  });

  it('writes nothing that the server derives', () => {
    const names = Object.keys(objectNamed('Mutation').getFields());
    expect(names.filter((name) => /Assessment|Flag$|Resolution$/.test(name))).toEqual([]);
    expect(names.filter((name) => name.endsWith('Conflict'))).toEqual(['resolveConflict']);
  });

  it('pages every list of records', () => {
    for (const { of, name, kind } of RELATIONS) {
      const type = of === null ? schema.getType('Record') : schema.getType(pascal(of));
      const field = (type as GraphQLObjectType).getFields()[name];
      expect([name, String(field?.type)]).toEqual([name, `${pascal(kind)}Connection!`]);
      expect(field?.args.map((arg) => arg.name)).toEqual(expect.arrayContaining(['first', 'after', 'last', 'before']));
    }
  });
});

describe('what a field holds', () => {
  const only = (schema: z.ZodType) => fieldsOf(z.strictObject({ field: schema }))[0];

  it('is read from the definition of the kind', () => {
    expect(only(z.int().min(0).max(86_400))).toMatchObject({ shape: { type: 'Int' }, required: true });
    expect(only(z.int())).toMatchObject({ shape: { type: 'Float' } });
    expect(only(z.string().meta({ format: 'uuid' }).nullish())).toMatchObject({
      shape: { type: 'ID' },
      required: false,
    });
    expect(only(z.enum(['a-b', 'c']))).toMatchObject({ shape: { type: 'enum', values: ['a-b', 'c'] } });
    expect(only(z.enum(['0.1', '1']))).toMatchObject({ shape: { type: 'String' } });
    expect(only(z.unknown())).toMatchObject({ shape: { type: 'JSON' }, required: false });
    expect(only(z.record(z.string(), z.unknown()))).toMatchObject({ shape: { type: 'JSON' } });
    expect(only(z.union([z.string(), z.boolean()]))).toMatchObject({ shape: { type: 'JSON' } });
    expect(only(z.array(z.boolean()))).toMatchObject({ shape: { type: 'list', item: { type: 'Boolean' } } });
    expect(only(z.number())).toMatchObject({ shape: { type: 'Float' } });
    expect(only(z.boolean().nullish())).toMatchObject({ shape: { type: 'Boolean' }, required: false });
    expect(only(z.string().nullable())).toMatchObject({ shape: { type: 'String' }, required: false });
    expect(only(z.int().nullable())).toMatchObject({ shape: { type: 'Float' }, required: false });
  });

  it('is text where its choices have no names in GraphQL, or two of them the same', () => {
    expect(only(z.enum(['mg/L', '%']))).toMatchObject({ shape: { type: 'String' } });
    expect(only(z.enum(['at-25', 'at_25']))).toMatchObject({ shape: { type: 'String' } });
  });

  it('is not a list with gaps in it', () => {
    expect(() => only(z.array(z.string().nullable()))).toThrow('whose items may be null');
  });

  it('is named as GraphQL can name it', () => {
    expect(['at-the-well', 'dissolvedOxygenMgPerL', 'conflict_kept', 'dry'].map(enumName)).toEqual([
      'AT_THE_WELL',
      'DISSOLVED_OXYGEN_MG_PER_L',
      'CONFLICT_KEPT',
      'DRY',
    ]);
  });

  it('is a field of an object', () => {
    expect(() => fieldsOf(z.string())).toThrow(/only an object schema/);
  });
});
