import { kindNamed } from '../../protocol/kinds-by-name.ts';
import { relation } from '../../store/read/record-relations.ts';
import type { RecordRow } from '../../store/read/record-states.ts';
import { listCost, listUnder } from './connections.ts';
import type { GraphTypes } from './types.ts';

/** Fields of every record; a field of a kind that has the same name says the same. */
export const RECORD_FIELDS = [
  'id',
  'kind',
  'feed',
  'seq',
  'rev',
  'voided',
  'by',
  'client',
  'mutation',
  'reason',
  'clock',
  'afterAssignment',
  'carriedBy',
];

/** The lists of a visit, and of an event, that take in what was recorded there. */
const ALL: Readonly<Record<string, string>> = { flags: 'allFlags', conflicts: 'allConflicts' };

function voidedType(types: GraphTypes) {
  const ref = types.builder.objectRef<NonNullable<RecordRow['state']['voided']>>('Voided');
  return ref.implement({
    description: 'A record that was taken out of the count, and stays readable.',
    fields: (t) => ({
      reason: t.exposeString('reason'),
      byId: t.exposeID('by', { nullable: true }),
      by: t.field({
        type: types.ofKind('member'),
        nullable: true,
        resolve: (voided, _args, g) => g.reads.record(voided.by, 'member'),
      }),
    }),
  });
}

function clockType(types: GraphTypes) {
  const ref = types.builder.objectRef<NonNullable<RecordRow['state']['clock']>>('DeviceClock');
  return ref.implement({
    description: 'What the device said of its clocks when it captured the record, and by how much it was off.',
    fields: (t) => ({
      wall: t.exposeString('wall', { description: 'As the device showed it, with offset' }),
      monotonicMs: t.exposeFloat('monotonicMs'),
      boot: t.exposeString('boot'),
      sequence: t.exposeFloat('sequence'),
      differenceMs: t.exposeFloat('differenceMs', { description: 'Server time minus device time; add it to correct' }),
      uncertaintyMs: t.exposeFloat('uncertaintyMs'),
    }),
  });
}

function endedType(types: GraphTypes) {
  const ref = types.builder.objectRef<NonNullable<RecordRow['state']['afterAssignment']>>('EndedAssignment');
  return ref.implement({
    description: 'An assignment that had ended.',
    fields: (t) => ({
      assignment: t.exposeID('assignment'),
      ended: t.exposeString('ended', { description: 'When the server took its end' }),
    }),
  });
}

function carriedType(types: GraphTypes) {
  const ref = types.builder.objectRef<NonNullable<RecordRow['state']['carriedBy']>[number]>('CarriedBy');
  return ref.implement({
    description: 'Who handed in a copy of what another device captured.',
    fields: (t) => ({
      device: t.exposeID('device', { nullable: true }),
      token: t.exposeID('token', { nullable: true, description: 'Where it was a token of no device' }),
      right: t.exposeBoolean('right', { description: 'Whether it had a right of its own where it wrote' }),
      rev: t.exposeInt('rev', { description: 'The last revision that it brought' }),
    }),
  });
}

/** What every record has, whatever its kind. */
export function implementRecord(types: GraphTypes): void {
  const { builder, record } = types;
  const [voided, clock, ended] = [voidedType(types), clockType(types), endedType(types)];
  const carried = carriedType(types);
  const about = (name: string, kind: string) => ({ of: relation(null, name), kind, definition: kindNamed(kind) });
  const lists = [about('flags', 'flag'), about('conflicts', 'conflict')];
  builder.interfaceType(record, {
    description: 'Anything that is recorded: it has revisions, lives in one feed, and is voided rather than deleted.',
    interfaces: [builder.nodeInterfaceRef()],
    resolveType: (row) => types.nameOf(row.kind),
    fields: (t) => ({
      id: t.exposeID('id'),
      kind: t.exposeString('kind', { description: 'As it is called on the wire, such as water-level' }),
      feed: t.exposeString('feed'),
      seq: t.exposeFloat('seq', { description: 'Its place in the feed' }),
      rev: t.int({ resolve: (row) => row.state.rev }),
      voided: t.field({ type: voided, nullable: true, resolve: (row) => row.state.voided }),
      byId: t.id({ nullable: true, resolve: (row) => row.state.by }),
      by: t.field({
        type: types.ofKind('member'),
        nullable: true,
        description: 'On whose behalf the last change was made; null where the server derived it',
        resolve: (row, _args, g) => g.reads.record(row.state.by, 'member'),
      }),
      client: t.id({ nullable: true, resolve: (row) => row.state.client }),
      mutation: t.float({ nullable: true, resolve: (row) => row.state.mutation }),
      reason: t.string({
        nullable: true,
        description: 'Of the last correction, void or re-homing',
        resolve: (row) => row.state.reason,
      }),
      clock: t.field({ type: clock, nullable: true, resolve: (row) => row.state.clock }),
      afterAssignment: t.field({
        type: ended,
        nullable: true,
        description: 'Written by a crew whose assignment had ended, which its phone could not know',
        resolve: (row) => row.state.afterAssignment ?? null,
      }),
      carriedBy: t.field({
        type: [carried],
        description: 'Who handed in copies of what another device captured',
        resolve: (row) => [...(row.state.carriedBy ?? [])],
      }),
      ...Object.fromEntries(
        lists.flatMap(({ of, kind, definition }) => {
          if (!definition) return [];
          const field = t.field({
            type: types.connectionOf(kind),
            args: types.argsOf(kind),
            description: `The ${of.name} about this record itself; what was recorded on a visit has its own, and \`${ALL[of.name]}\` of the visit has them all`,
            complexity: listCost,
            resolve: (row, args, g) => listUnder(g, definition, of, row.id, args),
          });
          return [[of.name, field]];
        }),
      ),
    }),
  });
}
