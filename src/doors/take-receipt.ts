import { createHash, randomUUID } from 'node:crypto';
import { v5 } from 'uuid';
import type { Context } from '../context.ts';
import { canonicalText } from '../protocol/content-hash.ts';
import { discrepancy } from '../protocol/kinds/discrepancy.ts';
import { sampleReceipt } from '../protocol/kinds/sample-receipt.ts';
import { Problem } from '../protocol/problem.ts';
import { type EventOfSide, readEventOfSide, toldOfSide } from '../reads/laboratory/side.ts';
import {
  type DiscrepancyTold,
  laboratoryDiscrepancies,
  officeDiscrepancies,
} from '../rules/laboratory/discrepancies-told.ts';
import { openItems } from '../rules/laboratory/receipt/open-items.ts';
import { type ReceiptFields, type ReceiptGiven, receiptFields } from '../rules/laboratory/receipt/receipt-given.ts';
import { receiptFaults } from '../rules/laboratory/receipt/receipt-sense.ts';
import type { EventSamples } from '../rules/samples/event-samples.ts';
import { recordHistory } from '../store/read/record-history.ts';
import { recordById } from '../store/read/records.ts';
import type { Actor } from '../writes/batch.ts';
import { laboratoryMember } from './laboratory-member.ts';
import { oneShotClient } from './one-shot.ts';
import { writeMany } from './write-many.ts';

export interface ReceiptAsked {
  readonly event: string;
  readonly given: ReceiptGiven;
  /** The request is told apart by it; null for one that came without, which is known by what it says. */
  readonly key: string | null;
  /** Which one, where the office types from its paper. */
  readonly laboratory?: string | undefined;
  /** The member who typed it, of the office. */
  readonly typedBy?: string | undefined;
}

export interface ReceiptTaken {
  readonly receipt: string;
  readonly discrepancies: readonly DiscrepancyTold[];
}

type Cooler = EventSamples['coolers'][number];

/** The coolers that whoever asks may name: of a laboratory those that go there, written on them or on its list. */
function nameable({ samples, laboratory }: EventOfSide): readonly Cooler[] {
  if (laboratory === null) return samples.coolers;
  const isOnly = samples.laboratories.length === 1;
  return samples.coolers.filter(({ fields }) => (fields.laboratory ?? (isOnly ? laboratory : null)) === laboratory);
}

function coolerNamed(side: EventOfSide, named: string | undefined): string | null {
  if (named === undefined) return null;
  const all = nameable(side);
  const byId = all.find(({ id }) => side.idOf(id) === named);
  const found = byId ? [byId] : all.filter(({ fields }) => fields.number === named);
  const [only, ...others] = found;
  if (only && others.length === 0) return only.id;
  const fault = only
    ? `${found.length} coolers have the number ${JSON.stringify(named)}; give the id of one from the list`
    : `no cooler ${JSON.stringify(named)} is among those of this event that you receive; give its number as written on it, or its id on the list, or leave it out and name its bottles`;
  throw new Problem('unreadable_record', `/cooler: ${fault}`, { pointer: '/cooler' });
}

/** Labels of the bottles that are in a cooler. */
function sentIn({ containers }: EventSamples, cooler: string | null): ReadonlySet<string> {
  const its = containers.filter(({ fields }) => fields.cooler === cooler && fields.standing === 'filled');
  return new Set(cooler === null ? [] : its.map(({ fields }) => fields.label));
}

async function typist(ctx: Context, actor: Actor, side: EventOfSide, asked: ReceiptAsked): Promise<string> {
  if (side.laboratory !== null) return laboratoryMember(ctx, actor, side.laboratory);
  const by = asked.typedBy ?? actor.person;
  if (by !== null) return by;
  const detail = '/typedBy is missing: the token belongs to nobody, so say which member types this';
  throw new Problem('unreadable_record', detail, { pointer: '/typedBy' });
}

const MOST_TURNS = 20;

/** Two boxes at one time with as many bottles say the same; without a cooler or a bottle nothing tells that they are one. */
function isOfSomething({ cooler, labels = [], items = [] }: ReceiptGiven): boolean {
  return cooler !== undefined || labels.length + items.length > 0;
}

/**
 * A request without a key is sent again by whoever got no answer: what it says is its key, so that one cooler is not received
 * twice. What was voided was a mistake, and may be said anew.
 */
async function keyOfContent(ctx: Context, actor: Actor, asked: ReceiptAsked): Promise<string> {
  const { event, given, laboratory = null, typedBy = null } = asked;
  if (!isOfSomething(given)) return randomUUID();
  const said = canonicalText({ event, given, laboratory, typedBy });
  const digest = createHash('sha256').update(said).digest('hex');
  return ctx.records.read(actor.firm, async (tx) => {
    for (let turn = 1; turn <= MOST_TURNS; turn++) {
      const key = `receipt ${digest} ${turn}`;
      const before = await recordById(tx, v5('record', oneShotClient(actor, key)));
      if (before === null || before.state.voided === null) return key;
    }
    return randomUUID();
  });
}

function mustMakeSense({ given }: ReceiptAsked, now: string): void {
  const faults = receiptFaults(given, now);
  const [first] = faults;
  if (first === undefined) return;
  const said = faults.map(({ pointer, fault }) => `${pointer}: ${fault}`).join('; ');
  throw new Problem('unreadable_record', `${said}. Nothing was written; send it again.`, { pointer: first.pointer });
}

/** What a receipt said when it was written, whatever the office corrected since; null where there is none of this id. */
async function firstSaid(ctx: Context, { firm }: Actor, receipt: string): Promise<ReceiptFields | null> {
  const [row] = await ctx.records.read(firm, (tx) => recordHistory(tx, receipt, 'written', { skip: 0, take: 1 }));
  return (row?.state?.fields ?? null) as ReceiptFields | null;
}

/** The record of a receipt; the same again for a request that is repeated. */
async function recordReceipt(ctx: Context, actor: Actor, side: EventOfSide, asked: ReceiptAsked & { key: string }) {
  const cooler = coolerNamed(side, asked.given.cooler);
  const { laboratory } = toldOfSide(side, { laboratory: asked.laboratory, cooler });
  const id = v5('record', oneShotClient(actor, asked.key));
  const before = await firstSaid(ctx, actor, id);
  const said = receiptFields(
    asked.given,
    before ? { before: before.items ?? [] } : { sent: sentIn(side.samples, cooler) },
  );
  const by = await typist(ctx, actor, side, asked);
  const entered = before?.observed.entered ?? ctx.now().toISOString();
  const observed = { at: asked.given.received, entered, captured: 'same-day', readBy: by, writtenBy: by };
  const set = { event: asked.event, laboratory, observed, ...said, ...(cooler === null ? {} : { cooler }) };
  const shot = { verb: 'record', kind: sampleReceipt.name, id: null, set, by } as const;
  return { id, cooler, laboratory, shot, isThere: before !== null };
}

export interface Written {
  /**
   * Hands the receipt itself to the write door, under the key of the request.
   *
   * @param isThere it is on record, so that what it waited for when it first came has come since
   */
  readonly write: (
    shot: Awaited<ReturnType<typeof recordReceipt>>['shot'],
    key: string,
    isThere: boolean,
  ) => Promise<void>;
  /** Is told of one that is on record, and was not written again. */
  readonly repeated: () => void;
}

/**
 * Takes a receipt, and opens an item for whatever does not agree with what was sent. A request that was cut off in between
 * is completed when it is repeated: the ids of items follow from what they are about.
 *
 * @throws Problem where the cooler or the laboratory cannot be told, and for what can only be a typing error
 */
export async function takeReceipt(
  ctx: Context,
  actor: Actor,
  asked: ReceiptAsked,
  { write, repeated }: Written,
): Promise<ReceiptTaken> {
  mustMakeSense(asked, ctx.now().toISOString());
  const key = asked.key ?? (await keyOfContent(ctx, actor, asked));
  const first = await recordReceipt(ctx, actor, await readEventOfSide(ctx, actor, asked.event), { ...asked, key });
  // what it says is its key: it cannot come with another content, though it is told in other words since
  if (first.isThere && asked.key === null) repeated();
  else await write(first.shot, key, first.isThere);
  const side = await readEventOfSide(ctx, actor, asked.event);
  const told = toldOfSide(side, { laboratory: first.laboratory, cooler: first.cooler });
  const items = openItems(first.id, told, actor.firm);
  const known = new Set(side.samples.discrepancies.map(({ id }) => id));
  const { by } = first.shot;
  const fresh = items
    .filter(({ id }) => !known.has(id))
    .map(({ id, set }) => ({ verb: 'record' as const, kind: discrepancy.name, id, set: { ...set }, by }));
  await writeMany(ctx, actor, randomUUID(), fresh);
  const now = fresh.length === 0 ? side : await readEventOfSide(ctx, actor, asked.event);
  const all = discrepanciesOfSide(now, first);
  const its = new Set(items.map(({ id }) => now.idOf(id)));
  return { receipt: now.idOf(first.id), discrepancies: all.filter(({ id }) => its.has(id)) };
}

/** The open items of an event as a side is told them. */
export function discrepanciesOfSide(
  side: EventOfSide,
  about: { readonly laboratory?: string; readonly cooler: string | null } = { cooler: null },
): readonly DiscrepancyTold[] {
  if (side.laboratory === null) return officeDiscrepancies(side.samples, side);
  return laboratoryDiscrepancies(toldOfSide(side, about), side);
}
