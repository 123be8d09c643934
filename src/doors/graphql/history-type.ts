import { type ToldChange, type ToldEntry, toldEntry } from '../../documents/history/told-entry.ts';
import { LIMITS } from '../../protocol/limits.ts';
import { Problem } from '../../protocol/problem.ts';
import { historyPart } from '../../reads/history-part.ts';
import { HISTORY_ACTS } from '../../rules/record-history/history-entry.ts';
import { STATEMENT_COST } from './connections.ts';
import type { GraphTypes } from './types.ts';

interface Entry extends ToldEntry {
  readonly record: unknown;
}

interface Part {
  readonly entries: readonly Entry[];
  readonly next: string | null;
}

/** Its feeds, its places, its rows, their devices and what they name. */
const HISTORY_COST = 5 * STATEMENT_COST;
const USUAL = 50;

function changeType({ builder }: GraphTypes) {
  return builder.objectRef<ToldChange>('HistoryChange').implement({
    description: 'A field that went from one value to another; of a first state, everything that it gives.',
    fields: (t) => ({
      field: t.exposeString('field'),
      was: t.field({ type: 'JSON', nullable: true, resolve: ({ was }) => was }),
      is: t.field({ type: 'JSON', nullable: true, resolve: ({ is }) => is }),
      wasName: t.string({ nullable: true, resolve: ({ wasName }) => wasName }),
      isName: t.string({ nullable: true, resolve: ({ isName }) => isName }),
    }),
  });
}

function entryType(types: GraphTypes) {
  const { builder, values } = types;
  const change = changeType(types);
  return builder.objectRef<Entry>('HistoryEntry').implement({
    description: 'A row of the ledger, with what it takes to check it; see GET /v1/PLURAL/ID/history/export.',
    fields: (t) => ({
      act: t.field({ type: values.enum('HistoryAct', HISTORY_ACTS), resolve: ({ act }) => act }),
      rev: t.exposeInt('rev'),
      receivedAt: t.exposeString('receivedAt'),
      byId: t.exposeID('by', { nullable: true }),
      byName: t.exposeString('byName', { nullable: true }),
      reason: t.exposeString('reason', { nullable: true }),
      deviceId: t.id({ nullable: true, resolve: ({ device }) => device?.id }),
      device: t.string({ nullable: true, description: 'Its label', resolve: ({ device }) => device?.label }),
      handedInBy: t.string({
        nullable: true,
        description: 'The label of another device, which handed it in as a copy',
        resolve: ({ handedInBy }) => handedInBy?.label,
      }),
      handedInById: t.id({ nullable: true, resolve: ({ handedInBy }) => handedInBy?.id }),
      client: t.exposeID('client', { nullable: true }),
      mutation: t.exposeFloat('mutation', { nullable: true }),
      decision: t.exposeID('decision', { nullable: true, description: 'The resolution by which it came about' }),
      changes: t.field({ type: [change], resolve: ({ changes }) => [...changes] }),
      feed: t.exposeString('feed'),
      seq: t.exposeFloat('seq'),
      historyHashBefore: t.exposeString('historyHashBefore'),
      historyHash: t.exposeString('historyHash'),
      record: t.field({ type: 'JSON', nullable: true, description: 'As it was', resolve: ({ record }) => record }),
    }),
  });
}

/** `history` of every record: what it ever said, a part at a time. */
export function addHistory(types: GraphTypes): void {
  const entry = entryType(types);
  const part = types.builder.objectRef<Part>('History').implement({
    fields: (t) => ({
      entries: t.field({ type: [entry], resolve: ({ entries }) => [...entries] }),
      next: t.exposeString('next', { nullable: true, description: 'Give it back as `cursor` for the next part' }),
    }),
  });
  types.builder.interfaceField(types.record, 'history', (t) =>
    t.field({
      type: part,
      description:
        'Everything that the record ever said, oldest first; of more than 10,000 rows `too_large`: export it then.',
      args: { limit: t.arg.int({ defaultValue: USUAL }), cursor: t.arg.string() },
      complexity: ({ limit }) => ({ field: HISTORY_COST + 2 * bounded(limit), multiplier: 1 }),
      resolve: async ({ id }, { limit, cursor }, g): Promise<Part> => {
        const asked = { limit: allowed(limit), cursor: cursor ?? undefined };
        const { entries, next } = await g.reads.ask((tx) => historyPart(tx, id, asked));
        return { entries: entries.map((one) => ({ ...toldEntry(one), record: one.state })), next };
      },
    }),
  );
}

function bounded(limit: number | null | undefined): number {
  return Math.min(Math.max(limit ?? USUAL, 1), LIMITS.listPageItems);
}

function allowed(limit: number | null | undefined): number {
  if (limit === null || limit === undefined || bounded(limit) === limit) return bounded(limit);
  throw new Problem('bad_request', `limit: ${limit} was given; 1 to ${LIMITS.listPageItems} may stand there`);
}
