import { id as uuid } from '../../protocol/primitives.ts';
import { pageSize } from '../../reads/page-args.ts';
import { mustBeOffice, setAsideList } from '../../reads/set-aside-list.ts';
import { type SetAsideRow, setAsideCount, setAsideRow } from '../../store/read/set-aside-rows.ts';
import { type Connection, connection, STATEMENT_COST } from './connections.ts';
import type { GraphTypes } from './types.ts';

const STANDINGS = ['waiting', 'kept', 'released'];
const OUTCOMES = ['set_aside', 'refused'];

const utf8 = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });

function textOf(bytes: Buffer): string | null {
  try {
    return utf8.decode(bytes);
  } catch {
    return null;
  }
}

function setAsideType(types: GraphTypes) {
  const { builder, values } = types;
  return builder.objectRef<SetAsideRow>('SetAside').implement({
    description: 'A change that was handed in and not applied, as it came.',
    fields: (t) => ({
      id: t.exposeID('id'),
      client: t.exposeID('client'),
      mutation: t.exposeFloat('mutation'),
      role: t.exposeString('role', { description: 'Of whoever handed it in' }),
      personId: t.exposeID('person', { nullable: true }),
      person: t.field({
        type: types.ofKind('member'),
        nullable: true,
        resolve: (row, _args, g) => g.reads.record(row.person, 'member'),
      }),
      outcome: t.field({ type: values.enum('SetAsideOutcome', OUTCOMES), resolve: (row) => row.outcome }),
      code: t.exposeString('code', { description: 'Of GET /v1/problems' }),
      detail: t.exposeString('detail'),
      waitsFor: t.exposeIDList('waitsFor', { description: 'Records that have not arrived' }),
      standing: t.field({
        type: values.enum('SetAsideStanding', STANDINGS),
        description: 'WAITING for a record, KEPT for a person, RELEASED and applied since',
        resolve: (row) => row.standing,
      }),
      receivedAt: t.exposeString('receivedAt'),
      raw: t.string({ description: 'The bytes as they came, in base64', resolve: (row) => row.raw.toString('base64') }),
      text: t.string({
        nullable: true,
        description: 'The same as text, where they are UTF-8',
        resolve: (row) => textOf(row.raw),
      }),
    }),
  });
}

/** What was set aside, for the office. */
export function addSetAsides(types: GraphTypes): void {
  const { builder, values } = types;
  const type = setAsideType(types);
  const list = builder.connectionObject(
    {
      type,
      name: 'SetAsideConnection',
      fields: (t) => ({
        totalCount: t.int({
          complexity: STATEMENT_COST,
          resolve: (parent) => (parent as unknown as Connection<SetAsideRow>).count(),
        }),
      }),
    },
    { name: 'SetAsideEdge' },
  );
  builder.queryFields((t) => ({
    setAside: t.field({
      type,
      nullable: true,
      args: { id: t.arg.id({ required: true }) },
      complexity: STATEMENT_COST,
      resolve: (_root, { id }, g) => {
        mustBeOffice(g.actor);
        return uuid.safeParse(id).success ? g.reads.ask((tx) => setAsideRow(tx, id)) : null;
      },
    }),
    setAsides: t.field({
      type: list,
      args: { ...t.arg.connectionArgs(), standing: t.arg({ type: values.enum('SetAsideStanding', STANDINGS) }) },
      complexity: (args) => ({ field: STATEMENT_COST, multiplier: Math.max(pageSize(args), 1) }),
      resolve: async (_root, { standing, ...args }, g) => {
        mustBeOffice(g.actor);
        const only = (standing ?? null) as string | null;
        const page = await g.reads.ask((tx) => setAsideList(tx, only, args));
        return connection(page, () => g.reads.ask((tx) => setAsideCount(tx, only)));
      },
    }),
  }));
}
