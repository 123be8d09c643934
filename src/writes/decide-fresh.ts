import { LIMITS } from '../protocol/limits.ts';
import { isUnreadable, type ReadMutation } from '../protocol/read-mutation.ts';
import { decide } from '../rules/decide/decide.ts';
import { type Decision, isTaken, type NotTaken, refuse, setAside, type Taken } from '../rules/decide/decision.ts';
import type { WriteTx } from '../store/write/transaction.ts';
import { derive } from './derive.ts';
import { carrierIn, carrierOf, carrierOfWaiting, handsOf, handsOfWaiting, rightInOf } from './event-rights.ts';
import type { Fresh } from './fresh.ts';
import type { Group } from './group.ts';
import { seenBy } from './seen-by.ts';
import { isUnwitnessed, isUnwitnessedWaiting } from './unwitnessed.ts';
import { requestOf, type Waiting } from './waiting.ts';

/** Puts what was taken into the overlay, and tries again what waited for the records that it brings. */
function take(group: Group, taken: Taken): number {
  const first = group.drafts.length;
  for (const { held, leaves, intent } of taken.changes) {
    const before = group.overlay.get(held.state.id) ?? null;
    if (!before) group.created.add(held.state.id);
    group.overlay.put(held);
    group.drafts.push({ held, before, leaves, intent, withdrawn: false });
  }
  return first;
}

function decideOne(fresh: Fresh, group: Group, keptBefore: number): Decision {
  const { read } = fresh;
  if (fresh.batch.actor.revoked) return decideRevoked(keptBefore);
  if (fresh.fault !== undefined) throw fresh.fault;
  if (isUnreadable(read))
    return { ...setAside(read.code, read.detail), ...(read.pointer ? { pointer: read.pointer } : {}) };
  if (read.mutation.verb === 'release') return decideRelease(fresh, read, group);
  const { batch, writer, clock } = fresh;
  const rightIn = rightInOf(handsOf(batch, group.owners, group.rights.now), group);
  const carrier = carrierIn(carrierOf(batch, group.owners.get(batch)), batch.actor.role, group);
  const seen = seenBy(batch.client, read, group, isUnwitnessed(batch, read.mutation.id, group.overlay));
  return decide({ read, writer, clock, seen, rightIn, carrier }, group.overlay);
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
  const seen = seenBy(waiting.row.client, waiting.read, group, isUnwitnessedWaiting(waiting));
  const carrier = carrierIn(carrierOfWaiting(waiting, group.overlay), waiting.row.role, group);
  const decision = decide({ ...requestOf(waiting, seen, role), carrier }, group.overlay);
  if (!isTaken(decision)) return refuse('release_failed', decision.detail);
  group.releasedRows.push(waiting.row.id);
  group.decidedRows.delete(waiting.row.id);
  return decision;
}

/** What was decided once the record had come waits no longer, whatever comes later in this group: as in another one. */
function stillWaits({ row, takenUp }: Waiting, group: Group): boolean {
  if (row.standing !== 'waiting' || group.releasedRows.includes(row.id)) return false;
  return takenUp === true || group.decidedRows.get(row.id)?.waitsFor.length !== 0;
}

/**
 * What is kept for a newer server and cannot be applied by this one goes on saying that: a later one may. What a server
 * had failed on was never decided before.
 */
function noteDecided({ row, takenUp }: Waiting, decision: NotTaken, group: Group): void {
  const isDecided = takenUp !== true || row.code === 'server_failed' || decision.waitsFor.length > 0;
  if (isDecided) group.decidedRows.set(row.id, decision);
}

/** Tries again what was set aside earlier, in this group or before it, until nothing more comes of it. */
export function retryWaiting(group: Group, anew = group.created.size > 0): void {
  let progress = anew;
  while (progress) {
    progress = false;
    for (const one of group.gathered.waiting.filter((waiting) => stillWaits(waiting, group))) {
      const seen = seenBy(one.row.client, one.read, group, isUnwitnessedWaiting(one));
      const rightIn = rightInOf(handsOfWaiting(one), group);
      const carrier = carrierIn(carrierOfWaiting(one, group.overlay), one.row.role, group);
      const decision = decide({ ...requestOf(one, seen), rightIn, carrier }, group.overlay);
      if (!isTaken(decision)) {
        noteDecided(one, decision, group);
        continue;
      }
      take(group, decision);
      group.decidedRows.delete(one.row.id);
      group.releasedRows.push(one.row.id);
      progress = true;
    }
    for (const fresh of group.waits.filter(waitsForParent)) progress = retryFresh(fresh, group) || progress;
  }
  group.created.clear();
}

function waitsForParent(fresh: Fresh): boolean {
  const { decision } = fresh;
  return decision !== null && !isTaken(decision) && decision.waitsFor.length > 0;
}

function retryFresh(fresh: Fresh, group: Group): boolean {
  const decision = decideOne(fresh, group, 0);
  fresh.decision = decision;
  if (!isTaken(decision)) return false;
  fresh.draft = take(group, decision);
  return true;
}

/** Whether what it is about, or cites the revision of, is derived: then that must be as if each had come alone. */
function looksAtDerived({ read }: Fresh): boolean {
  if (isUnreadable(read)) return false;
  const { verb } = read.mutation;
  return verb === 'resolve' || verb === 'release' || read.kind.name === 'flag-review';
}

/**
 * Decides the new mutations of a group in the order in which they came, each against all before it. A bad one sinks
 * no other; one that names a record which comes later in the group is applied when that has come.
 *
 * @param keptBefore how many mutations of each revoked token are set aside already
 */
export async function decideFresh(tx: WriteTx, group: Group, keptBefore: ReadonlyMap<string, number>): Promise<void> {
  const kept = new Map(keptBefore);
  let derived = 0;
  for (const fresh of group.fresh) {
    if (looksAtDerived(fresh) && group.drafts.length > derived) {
      await derive(tx, group, []);
      derived = group.drafts.length;
    }
    const { token } = fresh.batch.actor;
    const before = kept.get(token) ?? 0;
    const decision = decideOne(fresh, group, before);
    fresh.decision = decision;
    if (isTaken(decision)) fresh.draft = take(group, decision);
    else kept.set(token, before + 1);
    if (waitsForParent(fresh)) group.waits.push(fresh);
    retryWaiting(group);
  }
}
