import { KINDS } from '../../protocol/kinds-by-name.ts';
import { LIMITS } from '../../protocol/limits.ts';
import { Problem } from '../../protocol/problem.ts';
import { listAll, listCost, STATEMENT_COST } from './connections.ts';
import { camel } from './type-names.ts';
import type { GraphTypes } from './types.ts';

function addNodes(types: GraphTypes): void {
  const { builder, record } = types;
  builder.queryFields((t) => ({
    node: t.field({
      type: builder.nodeInterfaceRef(),
      nullable: true,
      args: { id: t.arg.id({ required: true }) },
      complexity: STATEMENT_COST,
      description: 'The record under an id, of whatever kind; null where there is none that you may see',
      resolve: (_root, args, g) => g.reads.record(args.id),
    }),
    nodes: t.field({
      type: [record],
      nullable: { list: false, items: true },
      args: { ids: t.arg.idList({ required: true }) },
      complexity: (args) => ({ field: STATEMENT_COST, multiplier: args.ids.length }),
      resolve: (_root, { ids }, g) => {
        if (ids.length <= LIMITS.listPageItems) return ids.map((id) => g.reads.record(id));
        throw new Problem('bad_request', `${ids.length} ids; the limit is listPageItems ${LIMITS.listPageItems}`);
      },
    }),
  }));
}

/** Each kind by id, and as a list. */
function addKinds(types: GraphTypes): void {
  for (const kind of KINDS) {
    types.builder.queryFields((t) => ({
      [camel(kind.name)]: t.field({
        type: types.ofKind(kind.name),
        nullable: true,
        args: { id: t.arg.id({ required: true }) },
        complexity: STATEMENT_COST,
        resolve: (_root, args, g) => g.reads.record(args.id, kind.name),
      }),
      [camel(kind.plural)]: t.field({
        type: types.connectionOf(kind.name),
        args: types.argsOf(kind.name),
        complexity: listCost,
        resolve: (_root, args, g) => listAll(g, kind, args),
      }),
    }));
  }
}

export function addQuery(types: GraphTypes): void {
  types.builder.queryType({ description: 'What you may read: all of your firm, or for a crew what it follows.' });
  addNodes(types);
  addKinds(types);
}
