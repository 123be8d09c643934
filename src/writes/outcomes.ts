import type { Outcome } from '../protocol/mutation.ts';
import { isUnreadable } from '../protocol/read-mutation.ts';
import { isTaken, type NotTaken } from '../rules/decide/decision.ts';
import { fieldConflicts } from '../rules/derive/field-conflicts.ts';
import { derivedId } from '../rules/derived-id.ts';
import type { ClientUpdate } from '../store/write/persist-clients.ts';
import type { LedgerRow } from '../store/write/persist-ledger.ts';
import type { DecidedAnew, NewReceipt, NewSetAside } from '../store/write/persist-receipts.ts';
import type { Batch } from './batch.ts';
import { carrierId, carrierOf, handsOf } from './event-rights.ts';
import type { Fresh } from './fresh.ts';
import type { Group } from './group.ts';

export function setAsideId(firm: string, { batch, number }: Pick<Fresh, 'batch' | 'number'>): string {
  return derivedId(firm, 'set-aside', batch.client, String(number));
}

function subjectOf(fresh: Fresh): Pick<Outcome, 'kind' | 'id'> {
  return isUnreadable(fresh.read) ? {} : { kind: fresh.read.mutation.kind, id: fresh.read.mutation.id };
}

/** Open conflicts about a record: of its fields, or of what it claims. */
function openConflicts(group: Group, firm: string, id: string): string[] {
  const held = group.overlay.get(id);
  const ofFields = held ? fieldConflicts(firm, held).filter((one) => one.fields.standing === 'open') : [];
  const ofClaims = group.overlay
    .ofKind('conflict')
    .filter((one) => one.state.fields.standing === 'open' && mentions(one.state.fields, id))
    .map((one) => one.state.id);
  return [...new Set([...ofFields.map((one) => one.id), ...ofClaims])].sort();
}

function mentions(fields: Readonly<Record<string, unknown>>, id: string): boolean {
  const rivals = [fields.shown, ...(fields.kept as readonly unknown[])] as { record?: string }[];
  return fields.subject === id || rivals.some((rival) => rival.record === id);
}

function takenOutcome(group: Group, firm: string, fresh: Fresh, row: LedgerRow): Outcome {
  const { decision } = fresh;
  if (!decision || !isTaken(decision)) throw new Error(`mutation ${fresh.number} was not taken`);
  const conflicts = openConflicts(group, firm, row.record);
  const claim = row.kind === 'well-claim' || row.kind === 'sign-out';
  return {
    mutationId: fresh.number,
    outcome: claim && conflicts.length > 0 ? 'conflict_kept' : decision.outcome,
    kind: row.kind,
    id: row.record,
    rev: row.rev,
    feed: row.feed,
    seq: row.seq,
    ...(conflicts.length > 0 ? { conflicts } : {}),
  };
}

function notTakenOutcome(firm: string, fresh: Fresh, decision: NotTaken): Outcome {
  const { outcome, code, detail, pointer } = decision;
  const kept = outcome === 'set_aside' ? { setAside: setAsideId(firm, fresh) } : {};
  const where = pointer === undefined ? {} : { pointer };
  return { mutationId: fresh.number, outcome, ...subjectOf(fresh), ...kept, code, detail, ...where };
}

function outcomeOf(group: Group, firm: string, fresh: Fresh, rowOfDraft: readonly LedgerRow[]): Outcome {
  const { decision, draft } = fresh;
  if (!decision) throw new Error(`mutation ${fresh.number} was not decided`);
  if (!isTaken(decision)) return notTakenOutcome(firm, fresh, decision);
  const row = draft === null ? undefined : rowOfDraft[draft];
  if (!row) throw new Error(`mutation ${fresh.number} was taken but changed nothing`);
  return takenOutcome(group, firm, fresh, row);
}

export function receiptsOf(group: Group, rowOfDraft: readonly LedgerRow[], firm: string): NewReceipt[] {
  return group.fresh.map((fresh) => ({
    client: fresh.batch.client,
    mutation: fresh.number,
    hash: fresh.hash,
    outcome: JSON.stringify(outcomeOf(group, firm, fresh, rowOfDraft)),
    baseRev: fresh.decision && isTaken(fresh.decision) ? fresh.decision.seenRev : null,
  }));
}

/** A text column takes no NUL, which a detail may quote from what it is about. */
function storable(detail: string): string {
  return detail.toWellFormed().replaceAll('\0', '\\u0000');
}

/** Nothing was seen by who carries a copy, and everything by who asks for an answer at once. */
function handOf(batch: Batch, { owners, rights }: Group): Pick<NewSetAside, 'device' | 'since'> {
  const [hand] = handsOf(batch, owners, rights.now) ?? [];
  return { device: hand?.device ?? null, since: hand?.since ?? null };
}

/** What was not taken, as it came; nothing more of a revoked device that has filled its share. */
export function setAsideOf(group: Group, firm: string): NewSetAside[] {
  return group.fresh.flatMap((fresh) => {
    const { decision, batch } = fresh;
    if (!decision || isTaken(decision)) return [];
    if (decision.outcome === 'refused' && decision.code === 'device_revoked') return [];
    return {
      id: setAsideId(firm, fresh),
      client: batch.client,
      mutation: fresh.number,
      role: batch.actor.role,
      person: batch.actor.person,
      raw: fresh.line.bytes,
      outcome: decision.outcome,
      code: decision.code,
      detail: storable(decision.detail),
      waitsFor: decision.waitsFor,
      standing: decision.waitsFor.length > 0 ? ('waiting' as const) : ('kept' as const),
      differenceMs: fresh.clock?.differenceMs ?? null,
      uncertaintyMs: fresh.clock?.uncertaintyMs ?? null,
      schemaVersion: batch.schemaVersion,
      ...handOf(batch, group),
      carrier: carrierId(carrierOf(batch, group.owners.get(batch))),
    };
  });
}

/** What was set aside before this group and is not applied by it, as it was decided now. */
export function decidedAnew({ decidedRows }: Group): DecidedAnew[] {
  return [...decidedRows].map(([id, { outcome, code, detail, waitsFor }]) => {
    const standing = waitsFor.length > 0 ? 'waiting' : 'kept';
    return { id, outcome, code, detail: storable(detail), waitsFor, standing };
  });
}

/** A copy that is carried says nothing of whose client it is; but a revoked token answers for all that it hands in. */
export function ownTokenOf({ actor, carried }: Batch): string | null {
  return carried && !actor.revoked ? null : actor.token;
}

function clientUpdate(batch: Batch, last: number, arrivedMs: number): ClientUpdate {
  return {
    id: batch.client,
    token: ownTokenOf(batch),
    lastMutation: last,
    schemaVersion: batch.schemaVersion,
    unsentCount: batch.unsent?.count ?? null,
    unsentOldest: batch.unsent?.oldest ?? null,
    differenceMs: batch.sent ? Math.round(arrivedMs - Date.parse(batch.sent.wall)) : null,
  };
}

/** The clients that pushed, each at its newest mutation. */
export function clientUpdates(group: Group, arrivedMs: number): ClientUpdate[] {
  const updates = new Map<string, ClientUpdate>();
  for (const batch of group.batches.filter((one) => !one.oneShot)) {
    const before = updates.get(batch.client);
    const known = before?.lastMutation ?? group.clients.get(batch.client)?.lastMutation ?? 0;
    const last = Math.max(known, batch.first + batch.lines.length - 1);
    const update = clientUpdate(batch, last, batch.arrivedMs ?? arrivedMs);
    // what its own phone said of itself in this group stands, whoever hands in a copy after it
    const isCopy = update.token === null && before !== undefined;
    updates.set(batch.client, isCopy ? { ...before, lastMutation: last } : update);
  }
  return [...updates.values()];
}
