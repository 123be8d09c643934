import { OUTCOMES } from '../../protocol/mutation.ts';
import type { OneShotAnswer } from '../one-shot.ts';
import type { GraphTypes } from './types.ts';

/** What became of a change: the outcome as a push gives it, and the record as it stands then. */
export function writeResultType(types: GraphTypes) {
  const outcome = types.values.enum('Outcome', OUTCOMES);
  const ref = types.builder.objectRef<OneShotAnswer>('WriteResult');
  return ref.implement({
    description: 'What became of a change. A refusal of its content is an outcome with a code, not an error.',
    fields: (t) => ({
      outcome: t.field({ type: outcome, resolve: ({ outcome: is }) => is.outcome }),
      kind: t.string({ nullable: true, resolve: ({ outcome: is }) => is.kind ?? null }),
      id: t.id({ nullable: true, resolve: ({ outcome: is }) => is.id ?? null }),
      rev: t.int({ nullable: true, resolve: ({ outcome: is }) => is.rev ?? null }),
      feed: t.string({ nullable: true, resolve: ({ outcome: is }) => is.feed ?? null }),
      seq: t.float({ nullable: true, resolve: ({ outcome: is }) => is.seq ?? null }),
      conflicts: t.idList({
        description: 'Conflict records that keep the other value',
        resolve: ({ outcome: is }) => is.conflicts ?? [],
      }),
      setAside: t.id({
        nullable: true,
        description: 'Names the copy that was set aside; releaseSetAside cites it',
        resolve: ({ outcome: is }) => is.setAside ?? null,
      }),
      code: t.string({
        nullable: true,
        description: 'Of GET /v1/problems',
        resolve: ({ outcome: is }) => is.code ?? null,
      }),
      detail: t.string({ nullable: true, resolve: ({ outcome: is }) => is.detail ?? null }),
      pointer: t.string({ nullable: true, resolve: ({ outcome: is }) => is.pointer ?? null }),
      repeated: t.exposeBoolean('repeated', {
        description: 'The same request was answered before; this is its answer',
      }),
      record: t.field({
        type: types.record,
        nullable: true,
        description: 'As it stands now',
        resolve: ({ outcome: is }, _args, g) => g.reads.record(is.id),
      }),
    }),
  });
}
