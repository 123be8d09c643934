import type { Mutation } from '../protocol/mutation.ts';
import type { Base } from './base.ts';
import { inOrder } from './own-work.ts';
import type { Change, Identity, OutboxEntry } from './store.ts';

function key(client: string, mutationId: number): string {
  return `${client} ${mutationId}`;
}

/**
 * `{ after: n }` names a mutation of the client that is given up. Where n is reissued too, its new number stands for
 * it. Where it was answered "applied", the revision that it brought does. Otherwise (merged with what this device had
 * not seen, or set aside) nothing true is left to say, so the base goes, and the server keeps every difference.
 */
function remapped(base: Base | undefined, answered: OutboxEntry | undefined, renumbered: number | undefined) {
  if (base === undefined || 'rev' in base) return base;
  if (renumbered !== undefined) return { after: renumbered };
  const { outcome } = answered ?? {};
  return outcome?.outcome === 'applied' && outcome.rev !== undefined ? { rev: outcome.rev } : undefined;
}

/**
 * Writes mutations anew under another client id, numbered from 1 in order of capture, in one commit with that
 * identity. What, who and when stay as they were captured; only mutationId and base change.
 */
export function reissueChanges(
  identity: Identity,
  client: string,
  outbox: readonly OutboxEntry[],
  which: (entry: OutboxEntry) => boolean,
): Change[] {
  const moving = inOrder(outbox.filter(which));
  const numbers = new Map(moving.map((entry, at) => [key(entry.client, entry.mutationId), at + 1]));
  const known = new Map(outbox.map((entry) => [key(entry.client, entry.mutationId), entry]));
  const changes = moving.flatMap((entry, at): Change[] => {
    const old = JSON.parse(entry.line) as Mutation;
    const cited = old.base && 'after' in old.base ? key(entry.client, old.base.after) : '';
    const base = remapped(old.base, known.get(cited), numbers.get(cited));
    const line = JSON.stringify({ ...old, mutationId: at + 1, base });
    return [
      { drop: 'entry', client: entry.client, mutationId: entry.mutationId },
      { put: 'entry', entry: { ...entry, client, mutationId: at + 1, line, outcome: null, dismissed: false } },
    ];
  });
  return [
    ...changes,
    { put: 'identity', identity: { ...identity, client, nextMutation: moving.length + 1, durable: 0 } },
  ];
}
