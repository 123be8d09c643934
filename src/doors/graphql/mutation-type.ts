import { KINDS } from '../../protocol/kinds-by-name.ts';
import { mustBeOffice } from '../../reads/set-aside-list.ts';
import { addKindMutations } from './record-mutations.ts';
import type { GraphTypes } from './types.ts';
import { type Manner, write } from './write.ts';
import { baseOf, SEEN, WRITE_COST, WriteParts } from './write-parts.ts';

/** A resolution is made by resolving a conflict; derived kinds are made by the server. */
const WRITABLE = KINDS.filter((kind) => kind.family !== 'derived' && kind.name !== 'resolution');

function addRehome(parts: WriteParts): void {
  parts.types.builder.mutationField('rehomeVisit', (t) =>
    t.field({
      type: parts.result,
      description: 'Moves a visit to the right well or event, and everything under it along, for the same reason.',
      args: {
        id: t.arg.id({ required: true }),
        baseRev: t.arg.int({ description: SEEN }),
        well: t.arg.id({ description: 'The well that was really visited' }),
        event: t.arg.id({ description: 'The event that the visit belongs to' }),
        ...parts.manner('needed'),
      },
      complexity: WRITE_COST,
      resolve: (_root, args, g, info) => {
        const { id, well, event } = args;
        const set = { ...(well == null ? {} : { well }), ...(event == null ? {} : { event }) };
        return write(g, info, { verb: 'rehome', kind: 'visit', id, ...baseOf(args.baseRev), set }, args as Manner);
      },
    }),
  );
}

function addResolve(parts: WriteParts): void {
  parts.types.builder.mutationField('resolveConflict', (t) =>
    t.field({
      type: parts.result,
      description: 'Decides which value stands; makes a resolution that lists the others.',
      args: {
        id: t.arg.id({ required: true }),
        baseRev: t.arg.int({ required: true, description: 'The revision of the conflict that was looked at' }),
        value: t.arg({ type: 'JSON', description: 'The value that stands; left out for a clash of claims' }),
        neither: t.arg.boolean({ description: 'True where the value is none of those given; needs a reason' }),
        ...parts.manner('optional'),
      },
      complexity: WRITE_COST,
      resolve: (_root, args, g, info) => {
        const neither = args.neither === true ? { neither: true } : {};
        const set = { ...(args.value === undefined ? {} : { value: args.value }), ...neither };
        const change = { id: args.id, ...baseOf(args.baseRev), set };
        return write(g, info, { verb: 'resolve', kind: 'conflict', ...change }, args as Manner);
      },
    }),
  );
}

function addRelease(parts: WriteParts): void {
  parts.types.builder.mutationField('releaseSetAside', (t) =>
    t.field({
      type: parts.result,
      description: 'Lets something that was set aside go ahead, with your right and its author as author.',
      args: { id: t.arg.id({ required: true }), ...parts.manner('optional') },
      complexity: WRITE_COST,
      resolve: (_root, args, g, info) => {
        mustBeOffice(g.actor);
        return write(g, info, { verb: 'release', kind: 'set-aside', id: args.id }, args as Manner);
      },
    }),
  );
}

/** The same changes as through REST and push, typed by the definitions of the kinds. */
export function addMutations(types: GraphTypes): void {
  types.builder.mutationType({ description: 'Changes, one transaction each, in the order in which they are given.' });
  const parts = new WriteParts(types);
  for (const kind of WRITABLE) addKindMutations(parts, kind);
  addRehome(parts);
  addResolve(parts);
  addRelease(parts);
}
