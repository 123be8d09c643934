import type { InputFieldMap, InterfaceRef, ObjectRef, OutputRef } from '@pothos/core';
import { z } from 'zod';
import type { KindDefinition } from '../../protocol/kind.ts';
import { KINDS, kindNamed } from '../../protocol/kinds-by-name.ts';
import type { RecordRow } from '../../store/read/record-states.ts';
import type { Builder, DoorTypes } from './builder.ts';
import { type Connection, connectionType } from './connections.ts';
import { listArgs } from './list-args.ts';
import { fieldsOf } from './shapes.ts';
import { pascal } from './type-names.ts';
import { ValueTypes } from './value-types.ts';

function found<Value>(map: ReadonlyMap<string, Value>, kind: string): Value {
  const value = map.get(kind);
  if (value === undefined) throw new Error(`the kind ${kind} has no type`);
  return value;
}

/** The types of the schema that refer to each other, named before any of them is filled in. */
export class GraphTypes {
  readonly builder: Builder;
  readonly values: ValueTypes;
  readonly record: InterfaceRef<DoorTypes, RecordRow>;
  readonly #kinds: ReadonlyMap<string, ObjectRef<DoorTypes, RecordRow>>;
  readonly #connections: ReadonlyMap<string, ObjectRef<DoorTypes, Connection>>;
  readonly #args: ReadonlyMap<string, InputFieldMap>;

  constructor(builder: Builder) {
    this.builder = builder;
    this.values = new ValueTypes(builder, (kind) => this.ofKind(kind));
    this.record = builder.interfaceRef<RecordRow>('Record');
    const each = <Value>(make: (kind: KindDefinition) => Value) =>
      new Map(KINDS.map((kind) => [kind.name, make(kind)]));
    this.#kinds = each((kind) => builder.objectRef<RecordRow>(pascal(kind.name)));
    this.#connections = each((kind) => connectionType(builder, kind, this.ofKind(kind.name)));
    this.#args = each((kind) => listArgs(builder, this.values, kind));
  }

  ofKind(kind: string): ObjectRef<DoorTypes, RecordRow> {
    return found(this.#kinds, kind);
  }

  connectionOf(kind: string): ObjectRef<DoorTypes, Connection> {
    return found(this.#connections, kind);
  }

  argsOf(kind: string): InputFieldMap {
    return found(this.#args, kind);
  }

  /** The enumeration of a field of a kind, for answers that count by it. */
  choicesOf(kind: string, name: string): OutputRef<unknown> {
    const field = fieldsOf(kindNamed(kind)?.fields ?? z.object()).find((one) => one.name === name);
    if (!field) throw new Error(`a ${kind} has no field ${name}`);
    return this.values.output(field, pascal(kind)) as OutputRef<unknown>;
  }

  /** @throws Error for a kind that this server does not know, whose records are not loaded either */
  nameOf(kind: string): string {
    if (!kindNamed(kind)) throw new Error(`the kind ${kind} has no type`);
    return pascal(kind);
  }
}
