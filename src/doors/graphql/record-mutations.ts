import type { KindDefinition } from '../../protocol/kind.ts';
import { setOf } from './input-values.ts';
import { pascal } from './type-names.ts';
import { type Manner, write } from './write.ts';
import { baseOf, SEEN, WRITE_COST, type WriteParts } from './write-parts.ts';

function addRecord(parts: WriteParts, kind: KindDefinition): void {
  const name = pascal(kind.name);
  const input = parts.input(kind, `${name}Input`, true);
  parts.types.builder.mutationField(`record${name}`, (t) =>
    t.field({
      type: parts.result,
      description: `${kind.description} Written by ${kind.writers.join(', ')}; of others it is set aside.`,
      args: {
        id: t.arg.id({ description: 'A UUID that you made, version 7 for choice; the server makes one if missing' }),
        input: t.arg({ type: input, required: true }),
        ...parts.manner('optional'),
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

function addAmend(parts: WriteParts, kind: KindDefinition): void {
  const name = pascal(kind.name);
  const input = parts.input(kind, `${name}Amendment`, false);
  const reason = kind.family === 'observation' ? 'needed' : 'optional';
  parts.types.builder.mutationField(`amend${name}`, (t) =>
    t.field({
      type: parts.result,
      description: 'Fields that are left out stay as they are, null clears one.',
      args: {
        id: t.arg.id({ required: true }),
        baseRev: t.arg.int({ required: true, description: SEEN }),
        input: t.arg({ type: input, required: true }),
        ...parts.manner(reason),
      },
      complexity: WRITE_COST,
      resolve: (_root, args, g, info) => {
        const change = { id: args.id, ...baseOf(args.baseRev), set: setOf(kind, args.input) };
        return write(g, info, { verb: 'amend', kind: kind.name, ...change }, args as Manner);
      },
    }),
  );
}

function addVoid(parts: WriteParts, kind: KindDefinition): void {
  parts.types.builder.mutationField(`void${pascal(kind.name)}`, (t) =>
    t.field({
      type: parts.result,
      description: 'Takes it out of the count; it stays readable, with the reason.',
      args: {
        id: t.arg.id({ required: true }),
        baseRev: t.arg.int({ description: SEEN }),
        ...parts.manner('needed'),
      },
      complexity: WRITE_COST,
      resolve: (_root, args, g, info) => {
        const change = { id: args.id, ...baseOf(args.baseRev) };
        return write(g, info, { verb: 'void', kind: kind.name, ...change }, args as Manner);
      },
    }),
  );
}

/** recordX, amendX and voidX. */
export function addKindMutations(parts: WriteParts, kind: KindDefinition): void {
  addRecord(parts, kind);
  addAmend(parts, kind);
  addVoid(parts, kind);
}
