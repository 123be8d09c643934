import { LIMITS } from '../protocol/limits.ts';
import { isUnreadable, type ReadMutation } from '../protocol/read-mutation.ts';
import { decide } from '../rules/decide/decide.ts';
import { type Decision, isTaken, refuse, setAside, type Taken } from '../rules/decide/decision.ts';
import type { Seen } from '../rules/merge/register.ts';
import { receiptKey } from '../store/write/load-receipts.ts';
import type { Fresh } from './fresh.ts';
import type { Group } from './group.ts';
import { requestOf, type Waiting } from './waiting.ts';

/** What the writer had in view: as the mutation says, or as its own earlier mutation did. */
function seenBy(fresh: Fresh, read: ReadMutation, group: Group): Seen | null {
  const { base } = read.mutation;
  if (base === undefined) return null;
  if ('was' in base) return { value: base.was };
  if ('after' in base) return seenAfter(fresh, base.after, read.mutation.id, group);
  const current = group.overlay.get(read.mutation.id)?.state.rev ?? 0;
  // A revision that the server does not have yet is of a time before it was set back: what was seen is not known.
  return base.rev > current ? null : base;
}

/** The record that an outcome names; undefined where it was not applied. */
function recordOf(outcome: string): string | undefined {
  return (JSON.parse(outcome) as { id?: string }).id;
}

/** "What I had after my mutation n" says something of the record that n was about, and of no other. */
function seenAfter(fresh: Fresh, after: number, record: string, group: Group): Seen | null {
  const own = group.fresh.find((one) => one.batch.client === fresh.batch.client && one.number === after);
  if (own?.decision && isTaken(own.decision)) {
    const [first] = own.decision.changes;
    return first?.held.state.id === record ? { rev: own.decision.seenRev } : null;
  }
  const receipt = group.receipts.get(receiptKey(fresh.batch.client, after));
  if (receipt?.baseRev === undefined || receipt.baseRev === null || recordOf(receipt.outcome) !== record) return null;
  return { rev: receipt.baseRev };
}

/** Puts what was taken into the overlay, and tries again what waited for the records that it brings. */
function take(group: Group, taken: Taken): number {
  const first = group.drafts.length;
  for (const { held, leaves, intent } of taken.changes) {
    if (!group.overlay.get(held.state.id)) group.created.add(held.state.id);
    group.overlay.put(held);
    group.drafts.push({ held, leaves, intent, withdrawn: false });
  }
  return first;
}

function decideOne(fresh: Fresh, group: Group, keptBefore: number): Decision {
  const { read } = fresh;
  if (fresh.batch.actor.revoked) return decideRevoked(keptBefore);
  if (isUnreadable(read))
    return { ...setAside(read.code, read.detail), ...(read.pointer ? { pointer: read.pointer } : {}) };
  if (read.mutation.verb === 'release') return decideRelease(fresh, read, group);
  return decide({ read, writer: fresh.writer, clock: fresh.clock, seen: seenBy(fresh, read, group) }, group.overlay);
}

function decideRevoked(keptBefore: number): Decision {
  if (keptBefore >= LIMITS.revokedMutations) {
    return refuse('device_revoked', `revokedMutations ${LIMITS.revokedMutations} of this device are kept already`);
  }
  return setAside('device_revoked', 'the device was revoked; what it hands in is kept for a person to look at');
}

/** A person lets something that was set aside go ahead, with their own right and its author's name. */
function decideRelease(fresh: Fresh, read: ReadMutation, group: Group): Decision {
  const { role } = fresh.writer;
  if (role !== 'coordinator' && role !== 'admin') return setAside('right_missing', `the role ${role} may not release`);
  const waiting = group.gathered.released.get(read.mutation.id);
  if (!waiting || waiting.row.standing === 'released' || group.releasedRows.includes(waiting.row.id)) {
    return refuse('not_set_aside', `nothing waits under ${read.mutation.id}`, '/id');
  }
  const decision = decide(requestOf(waiting, role), group.overlay);
  if (!isTaken(decision)) return refuse('release_failed', decision.detail);
  group.releasedRows.push(waiting.row.id);
  return decision;
}

function stillWaits(one: Waiting, group: Group): boolean {
  return one.row.standing === 'waiting' && !group.releasedRows.includes(one.row.id);
}

/** Tries again what was set aside earlier, in this group or before it, until nothing more comes of it. */
function retryWaiting(group: Group): void {
  let progress = group.created.size > 0;
  while (progress) {
    progress = false;
    for (const one of group.gathered.waiting.filter((waiting) => stillWaits(waiting, group))) {
      const decision = decide(requestOf(one), group.overlay);
      if (!isTaken(decision)) continue;
      take(group, decision);
      group.releasedRows.push(one.row.id);
      progress = true;
    }
    for (const fresh of group.fresh.filter(waitsForParent)) progress = retryFresh(fresh, group) || progress;
  }
  group.created.clear();
}

function waitsForParent(fresh: Fresh): boolean {
  const { decision } = fresh;
  return decision !== null && !isTaken(decision) && decision.waitsFor.length > 0;
}

function retryFresh(fresh: Fresh, group: Group): boolean {
  const decision = decideOne(fresh, group, 0);
  if (!isTaken(decision)) return false;
  fresh.decision = decision;
  fresh.draft = take(group, decision);
  return true;
}

/**
 * Decides the new mutations of a group in the order in which they came, each against all before it. A bad one sinks
 * no other; one that names a record which comes later in the group is applied when that has come.
 *
 * @param keptBefore how many mutations of each revoked client are set aside already
 */
export function decideFresh(group: Group, keptBefore: ReadonlyMap<string, number>): void {
  const kept = new Map(keptBefore);
  for (const fresh of group.fresh) {
    const { client } = fresh.batch;
    const before = kept.get(client) ?? 0;
    const decision = decideOne(fresh, group, before);
    fresh.decision = decision;
    if (isTaken(decision)) fresh.draft = take(group, decision);
    else kept.set(client, before + 1);
    retryWaiting(group);
  }
}
