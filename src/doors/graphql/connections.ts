import type { ObjectRef } from '@pothos/core';
import type { KindDefinition } from '../../protocol/kind.ts';
import { type Page, pageSize } from '../../reads/page-args.ts';
import type { RecordRelation } from '../../store/read/record-relations.ts';
import type { RecordRow } from '../../store/read/record-states.ts';
import type { Builder, DoorTypes } from './builder.ts';
import type { GraphContext } from './context.ts';
import { type Args, readList, readPage } from './list-args.ts';
import { pascal } from './type-names.ts';

/** A page of a list, with what it takes to count the whole of it. */
export interface Connection<Item = RecordRow> {
  readonly edges: { readonly cursor: string; readonly node: Item }[];
  readonly pageInfo: {
    readonly hasNextPage: boolean;
    readonly hasPreviousPage: boolean;
    readonly startCursor: string | null;
    readonly endCursor: string | null;
  };
  readonly count: () => Promise<number>;
}

/** Asking the database once, for however many records it is asked. */
export const STATEMENT_COST = 5;

/** What a list costs: what each record of a full page costs, as many times as it has records. */
export function listCost(args: Args) {
  return { field: STATEMENT_COST, multiplier: Math.max(pageSize(readPage(args)), 1) };
}

export function connection<Item>(page: Page<Item>, count: () => Promise<number>): Connection<Item> {
  const { edges, hasNextPage, hasPreviousPage } = page;
  const startCursor = edges.at(0)?.cursor ?? null;
  const endCursor = edges.at(-1)?.cursor ?? null;
  return { edges: [...edges], pageInfo: { hasNextPage, hasPreviousPage, startCursor, endCursor }, count };
}

/** A page of all records of a kind. */
export async function listAll(g: GraphContext, kind: KindDefinition, args: Args): Promise<Connection> {
  const list = readList(kind, null, args);
  return connection(await g.reads.page(list, readPage(args)), () => g.reads.count(list));
}

/** A page of the records that belong to a parent; asked once for all parents at the same place of the answer. */
export async function listUnder(
  g: GraphContext,
  kind: KindDefinition,
  relation: RecordRelation,
  parent: string,
  args: Args,
): Promise<Connection> {
  const list = { ...readList(kind, relation, args), relation };
  return connection(await g.reads.pageUnder(list, parent, readPage(args)), () => g.reads.countUnder(list, parent));
}

/** The connection type of a kind, with `nodes` for those who need no edges and the count of the whole list. */
export function connectionType(
  builder: Builder,
  kind: KindDefinition,
  type: ObjectRef<DoorTypes, RecordRow>,
): ObjectRef<DoorTypes, Connection> {
  const made = builder.connectionObject(
    {
      type,
      name: `${pascal(kind.name)}Connection`,
      fields: (t) => ({
        totalCount: t.int({
          description: 'Of the whole list, not of the page',
          complexity: STATEMENT_COST,
          resolve: (parent) => (parent as unknown as Connection).count(),
        }),
      }),
    },
    { name: `${pascal(kind.name)}Edge` },
  );
  return made as unknown as ObjectRef<DoorTypes, Connection>;
}
