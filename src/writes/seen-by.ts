import type { ReadMutation } from '../protocol/read-mutation.ts';
import { isTaken } from '../rules/decide/decision.ts';
import type { Seen } from '../rules/merge/register.ts';
import { isAhead } from '../rules/merge/seen.ts';
import { receiptKey } from '../store/write/load-receipts.ts';
import type { Group } from './group.ts';

/**
 * What the writer of a mutation had in view: as the mutation says, or as its own earlier mutation did.
 *
 * @param unwitnessed nothing says in what history it saw the revision that it cites: where there was more than one, it
 *   had seen nothing
 */
export function seenBy(client: string, read: ReadMutation, group: Group, unwitnessed: boolean): Seen | null {
  const { base, id } = read.mutation;
  if (base === undefined) return null;
  if ('was' in base) return { value: base.was };
  if ('after' in base) return seenAfter(client, base.after, id, group);
  if (unwitnessed && group.revisionsInDoubt) return null;
  const current = group.overlay.get(id)?.state.rev ?? 0;
  // A revision that the server does not have yet is of a time before it was set back: what was seen is not known.
  return isAhead(base, current) ? null : base;
}

/** The record that an outcome names; undefined where it was not applied. */
function recordOf(outcome: string): string | undefined {
  return (JSON.parse(outcome) as { id?: string }).id;
}

/** "What I had after my mutation n" says something of the record that n was about, and of no other. */
function seenAfter(client: string, after: number, record: string, group: Group): Seen | null {
  const own = group.fresh.find((one) => one.batch.client === client && one.number === after);
  if (own?.decision && isTaken(own.decision)) {
    const [first] = own.decision.changes;
    return first?.held.state.id === record ? { rev: own.decision.seenRev } : null;
  }
  const receipt = group.receipts.get(receiptKey(client, after));
  if (receipt?.baseRev === undefined || receipt.baseRev === null || recordOf(receipt.outcome) !== record) return null;
  return { rev: receipt.baseRev };
}
