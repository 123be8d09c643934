import type { InputRef } from '@pothos/core';
import type { KindDefinition } from '../../protocol/kind.ts';
import { KINDS } from '../../protocol/kinds-by-name.ts';
import type { OneShot } from '../one-shot.ts';
import { setOf } from './input-values.ts';
import { fieldsOf } from './shapes.ts';
import { camel, pascal } from './type-names.ts';
import type { GraphTypes } from './types.ts';
import { describe } from './value-types.ts';
import { type Manner, write } from './write.ts';
import { writeResultType } from './write-result-type.ts';

/** A transaction, with all that follows from it. */
const WRITE_COST = 2_500;

/** A resolution is made by resolving a conflict; derived kinds are made by the server. */
const WRITABLE = KINDS.filter((kind) => kind.family !== 'derived' && kind.name !== 'resolution');

const KEY = 'A request repeated under its key is done once and answered the same; one key a change';
const SEEN = 'The revision that you had seen: what others changed since is merged, or kept beside yours';

/** The pieces that every mutation is made of. */
class Writes {
  readonly types: GraphTypes;
  readonly result: ReturnType<typeof writeResultType>;
  readonly clock: InputRef<unknown>;

  constructor(types: GraphTypes) {
    this.types = types;
    this.result = writeResultType(types);
    this.clock = types.builder.inputType('DeviceClockInput', {
      description: 'What the device says of its clocks as it captures.',
      fields: (t) => ({
        wall: t.string({ required: true, description: 'With offset' }),
        monotonicMs: t.float({ required: true }),
        boot: t.string({ required: true }),
        sequence: t.float({ required: true }),
      }),
    });
  }

  /** What every change may say beside the record. */
  manner(reason: 'needed' | 'optional') {
    return this.types.builder.args((t) => ({
      reason: t.string({ required: reason === 'needed', description: 'Why; needed to correct what was observed' }),
      by: t.id({ description: 'The member on whose behalf; the one at the device if missing' }),
      requires: t.idList({ description: 'Records that must be here first; the change waits for them' }),
      clock: t.field({ type: this.clock }),
      idempotencyKey: t.string({ description: KEY }),
    }));
  }

  input(kind: KindDefinition, name: string, all: boolean): InputRef<unknown> {
    const { builder, values } = this.types;
    const path = pascal(kind.name);
    return builder.inputType(name, {
      description: kind.description,
      fields: (t) =>
        Object.fromEntries(
          fieldsOf(kind.fields).map((field) => {
            const type = values.input(field, path) as InputRef<unknown>;
            return [field.name, t.field({ type, required: all && field.required, ...describe(field) })];
          }),
        ),
    });
  }
}

function base(rev: number | null | undefined): Pick<OneShot, 'base'> {
  return rev == null ? {} : { base: { rev } };
}

function addRecord(writes: Writes, kind: KindDefinition): void {
  const name = pascal(kind.name);
  const input = writes.input(kind, `${name}Input`, true);
  writes.types.builder.mutationField(`record${name}`, (t) =>
    t.field({
      type: writes.result,
      description: `${kind.description} Written by ${kind.writers.join(', ')}; of others it is set aside.`,
      args: {
        id: t.arg.id({ description: 'A UUID that you made, version 7 for choice; the server makes one if missing' }),
        input: t.arg({ type: input, required: true }),
        ...writes.manner('optional'),
      },
      complexity: WRITE_COST,
      resolve: (_root, args, g, info) => {
        // a firm has the id of the firm itself
        const own = kind.name === 'firm' ? g.actor.firm : null;
        const id = args.id ?? own;
        return write(g, info, { verb: 'record', kind: kind.name, id, set: setOf(kind, args.input) }, args as Manner);
      },
    }),
  );
}

function addAmend(writes: Writes, kind: KindDefinition): void {
  const name = pascal(kind.name);
  const input = writes.input(kind, `${name}Amendment`, false);
  const reason = kind.family === 'observation' ? 'needed' : 'optional';
  writes.types.builder.mutationField(`amend${name}`, (t) =>
    t.field({
      type: writes.result,
      description: 'Fields that are left out stay as they are, null clears one.',
      args: {
        id: t.arg.id({ required: true }),
        baseRev: t.arg.int({ required: true, description: SEEN }),
        input: t.arg({ type: input, required: true }),
        ...writes.manner(reason),
      },
      complexity: WRITE_COST,
      resolve: (_root, args, g, info) => {
        const change = { id: args.id, ...base(args.baseRev), set: setOf(kind, args.input) };
        return write(g, info, { verb: 'amend', kind: kind.name, ...change }, args as Manner);
      },
    }),
  );
}

function addVoid(writes: Writes, kind: KindDefinition): void {
  writes.types.builder.mutationField(`void${pascal(kind.name)}`, (t) =>
    t.field({
      type: writes.result,
      description: 'Takes it out of the count; it stays readable, with the reason.',
      args: {
        id: t.arg.id({ required: true }),
        baseRev: t.arg.int({ description: SEEN }),
        ...writes.manner('needed'),
      },
      complexity: WRITE_COST,
      resolve: (_root, args, g, info) => {
        const change = { id: args.id, ...base(args.baseRev) };
        return write(g, info, { verb: 'void', kind: kind.name, ...change }, args as Manner);
      },
    }),
  );
}

function addRehome(writes: Writes): void {
  writes.types.builder.mutationField('rehomeVisit', (t) =>
    t.field({
      type: writes.result,
      description: 'Moves a visit to the right well or event, and everything under it along, for the same reason.',
      args: {
        id: t.arg.id({ required: true }),
        baseRev: t.arg.int({ description: SEEN }),
        well: t.arg.id({ description: 'The well that was really visited' }),
        event: t.arg.id({ description: 'The event that the visit belongs to' }),
        ...writes.manner('needed'),
      },
      complexity: WRITE_COST,
      resolve: (_root, args, g, info) => {
        const { id, well, event } = args;
        const set = { ...(well == null ? {} : { well }), ...(event == null ? {} : { event }) };
        return write(g, info, { verb: 'rehome', kind: 'visit', id, ...base(args.baseRev), set }, args as Manner);
      },
    }),
  );
}

function addResolve(writes: Writes): void {
  writes.types.builder.mutationField('resolveConflict', (t) =>
    t.field({
      type: writes.result,
      description: 'Decides which value stands; makes a resolution that lists the others.',
      args: {
        id: t.arg.id({ required: true }),
        baseRev: t.arg.int({ required: true, description: 'The revision of the conflict that was looked at' }),
        value: t.arg({ type: 'JSON', description: 'The value that stands; left out for a clash of claims' }),
        ...writes.manner('optional'),
      },
      complexity: WRITE_COST,
      resolve: (_root, args, g, info) => {
        const set = args.value === undefined ? {} : { value: args.value };
        const change = { id: args.id, ...base(args.baseRev), set };
        return write(g, info, { verb: 'resolve', kind: 'conflict', ...change }, args as Manner);
      },
    }),
  );
}

function addRelease(writes: Writes): void {
  writes.types.builder.mutationField('releaseSetAside', (t) =>
    t.field({
      type: writes.result,
      description: 'Lets something that was set aside go ahead, with your right and its author as author.',
      args: { id: t.arg.id({ required: true }), ...writes.manner('optional') },
      complexity: WRITE_COST,
      resolve: (_root, args, g, info) =>
        write(g, info, { verb: 'release', kind: 'set-aside', id: args.id }, args as Manner),
    }),
  );
}

/** The same changes as through REST and push, typed by the definitions of the kinds. */
export function addMutations(types: GraphTypes): void {
  types.builder.mutationType({ description: 'Changes, one transaction each, in the order in which they are given.' });
  const writes = new Writes(types);
  for (const kind of WRITABLE) {
    addRecord(writes, kind);
    addAmend(writes, kind);
    addVoid(writes, kind);
  }
  addRehome(writes);
  addResolve(writes);
  addRelease(writes);
}

export { camel };
