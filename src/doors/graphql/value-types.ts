import type { InputRef, OutputRef } from '@pothos/core';
import type { RecordRow } from '../../store/read/record-states.ts';
import type { Builder, DoorTypes } from './builder.ts';
import { enumName, type Shape, type ShapeField } from './shapes.ts';
import { enumTypeName, objectTypeName, pascal, singular } from './type-names.ts';

type Fields = Readonly<Record<string, unknown>>;
type FieldBuilder = PothosSchemaTypes.ObjectFieldBuilder<DoorTypes, Fields>;
type Objects = Extract<Shape, { type: 'object' }>;
type Entries = Extract<Shape, { type: 'entries' }>;

/** A type of the schema, or a list of it. */
export type OutputType = OutputRef<unknown> | [OutputRef<unknown>];
export type InputType = InputRef<unknown> | [InputRef<unknown>];

/** What a nested type is called: after the kind and the field, in the singular where it is one item of a list. */
function nested(path: string, name: string, shape: Shape): string {
  return path + pascal(shape.type === 'list' || shape.type === 'entries' ? singular(name) : name);
}

/** An entry of `parameters` is an object with a `parameter` beside the fields of its value. */
export function entryShape(shape: Entries, name: string): Objects {
  const key: ShapeField = { name: singular(name), shape: shape.keys, required: true, description: undefined };
  return { type: 'object', fields: [key, ...shape.value.fields] };
}

function entriesOf(value: unknown, key: string): Fields[] {
  return Object.entries((value ?? {}) as Readonly<Record<string, Fields>>).map(([name, entry]) => {
    return { [key]: name, ...entry };
  });
}

/** How the value of a field is given out: as it is stored, but for objects whose keys are an enumeration. */
export function givenOut(value: unknown, { name, shape }: ShapeField): unknown {
  if (value === undefined || value === null) return null;
  return shape.type === 'entries' ? entriesOf(value, singular(name)) : value;
}

/** The GraphQL types of the values that records hold, each made once however often it occurs. */
export class ValueTypes {
  readonly #builder: Builder;
  readonly #ofKind: (kind: string) => OutputRef<RecordRow>;
  readonly #enums = new Map<string, OutputRef<unknown> & InputRef<unknown>>();
  readonly #outputs = new Map<string, OutputRef<unknown>>();
  readonly #inputs = new Map<string, InputRef<unknown>>();
  /** What each type looks like, so that no two of different form share a name. */
  readonly #forms = new Map<string, string>();

  /** @param ofKind the type of the records of a kind */
  constructor(builder: Builder, ofKind: (kind: string) => OutputRef<RecordRow>) {
    this.#builder = builder;
    this.#ofKind = ofKind;
  }

  output(field: ShapeField, path: string): OutputType {
    const { name, shape } = field;
    const item = nested(path, name, shape);
    if (shape.type === 'list') return [this.#outputOf(shape.item, item)];
    if (shape.type === 'entries') return [this.#outputOf(entryShape(shape, name), item)];
    return this.#outputOf(shape, item);
  }

  input(field: ShapeField, path: string): InputType {
    const { name, shape } = field;
    const item = nested(path, name, shape);
    if (shape.type === 'list') return [this.#inputOf(shape.item, item)];
    if (shape.type === 'entries') return [this.#inputOf(entryShape(shape, name), item)];
    return this.#inputOf(shape, item);
  }

  enum(name: string, values: readonly string[]): OutputRef<unknown> & InputRef<unknown> {
    const key = enumTypeName(values, name);
    this.#mustBe(key, JSON.stringify(values));
    const known = this.#enums.get(key);
    if (known) return known;
    const named = Object.fromEntries(values.map((value) => [enumName(value), { value }]));
    const made = this.#builder.enumType(key, { values: named });
    this.#enums.set(key, made);
    return made;
  }

  #outputOf(shape: Shape, path: string): OutputRef<unknown> {
    if (shape.type === 'enum') return this.enum(path, shape.values);
    if (shape.type === 'object') return this.#outputObject(shape, path);
    if (shape.type === 'list' || shape.type === 'entries') throw new Error(`${path} is a list of lists`);
    return shape.type as unknown as OutputRef<unknown>;
  }

  #inputOf(shape: Shape, path: string): InputRef<unknown> {
    if (shape.type === 'enum') return this.enum(path, shape.values);
    if (shape.type === 'object') return this.#inputObject(shape, path);
    if (shape.type === 'list' || shape.type === 'entries') throw new Error(`${path} is a list of lists`);
    return shape.type as unknown as InputRef<unknown>;
  }

  #nameOf(shape: Objects, path: string): string {
    const name = objectTypeName(shape, path);
    this.#mustBe(name, JSON.stringify(shape));
    return name;
  }

  #mustBe(name: string, form: string): void {
    if ((this.#forms.get(name) ?? form) !== form) throw new Error(`two types of different form are called ${name}`);
    this.#forms.set(name, form);
  }

  #outputObject(shape: Objects, path: string): OutputRef<unknown> {
    const name = this.#nameOf(shape, path);
    const known = this.#outputs.get(name);
    if (known) return known;
    const ref = this.#builder.objectRef<Fields>(name);
    this.#outputs.set(name, ref);
    ref.implement({
      fields: (t) =>
        Object.fromEntries(
          shape.fields.flatMap((field) =>
            field.record === undefined
              ? [[field.name, this.#valueField(t, field, name)]]
              : Object.entries(this.#recordFields(t, field, field.record)),
          ),
        ),
    });
    return ref;
  }

  #valueField(t: FieldBuilder, field: ShapeField, path: string) {
    return t.field({
      type: this.output(field, path) as OutputRef<unknown>,
      nullable: !field.required,
      ...describe(field),
      resolve: (parent) => givenOut(parent[field.name], field),
    });
  }

  /** As a kind gives its references: `wellId` costs nothing, `well` is the record, where the reader may see it. */
  #recordFields(t: FieldBuilder, field: ShapeField, kind: string) {
    const idOf = (parent: Fields) => (parent[field.name] as string | null | undefined) ?? null;
    return {
      [`${field.name}Id`]: t.id({ nullable: !field.required, resolve: (parent) => idOf(parent) as string }),
      [field.name]: t.field({
        type: this.#ofKind(kind),
        nullable: true,
        ...describe(field),
        resolve: (parent, _args, g) => g.reads.record(idOf(parent), kind),
      }),
    };
  }

  #inputObject(shape: Objects, path: string): InputRef<unknown> {
    const name = this.#nameOf(shape, path);
    const known = this.#inputs.get(name);
    if (known) return known;
    const made = this.#builder.inputType(`${name}Input`, {
      fields: (t) =>
        Object.fromEntries(
          shape.fields.map((field) => {
            const type = this.input(field, name) as InputRef<unknown>;
            return [field.name, t.field({ type, required: field.required, ...describe(field) })];
          }),
        ),
    });
    this.#inputs.set(name, made);
    return made;
  }
}

export function describe(field: ShapeField): { description?: string } {
  return field.description === undefined ? {} : { description: field.description };
}
