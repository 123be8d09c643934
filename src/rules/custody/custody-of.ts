import { instantMs } from '../../science/instant-ms.ts';
import { isRefusal } from '../../science/refusal.ts';
import { handOverOrder } from '../../science/samples/hand-over-order.ts';
import type { CoolerRecord, HandOverRecord, ReceiptRecord, SealRecord } from '../samples/sample-records.ts';
import { arrivalOf } from './arrival.ts';
import { CLOCKS_DIFFER_MIN, isAfter } from './clocks.ts';
import { type Change, isSealedFrom, type Signer } from './custody-change.ts';
import { custodyGaps, type Gap } from './custody-gaps.ts';
import { handOverPairs } from './hand-over-pairs.ts';
import { isNamedIn } from './same-person.ts';

/** Who is on record as having it from when until when. */
export interface Stretch {
  readonly holder: string | null;
  readonly from: string | null;
  /** Null: still. */
  readonly until: string | null;
}

export interface Custody {
  readonly changes: readonly Change[];
  readonly twice: readonly HandOverRecord[];
  readonly gaps: readonly Gap[];
  readonly stretches: readonly Stretch[];
}

export interface CustodyGiven {
  readonly cooler: CoolerRecord;
  readonly seals: readonly SealRecord[];
  readonly handOvers: readonly HandOverRecord[];
  readonly receipts: readonly ReceiptRecord[];
  readonly laboratoryName: string | null;
  /** When the first of its bottles was filled. */
  readonly collected: string | null;
}

function signer(record: HandOverRecord | null): Signer | null {
  if (!record) return null;
  const { at, name, organization = null, to = null } = record.fields;
  return { record: record.id, at, name, organization: organization ?? null, to: to ?? null, isReceipt: false };
}

function arrivalSigner({ receipts, handOvers, laboratoryName }: CustodyGiven) {
  const arrival = arrivalOf(receipts, handOvers);
  if (!arrival) return null;
  const { id: record, fields } = arrival.receipt;
  const name = fields.receivedBy ?? 'the laboratory';
  const by: Signer = { record, at: fields.received, name, organization: laboratoryName, to: null, isReceipt: true };
  return { by, isTooEarly: arrival.isTooEarly };
}

/**
 * Whether the time between giving and receiving counts as custody though nobody signed for it: a carrier had it under a
 * tracking number, with a seal that was whole from the one to the other.
 *
 * Source: sampling plans, county file, doc 617413, page 32 (giving and receiving are a pair), doc 956133, page 112
 * (tracking number on the custody record; seals that break to open).
 */
function isCarrierLeg({ cooler, seals }: CustodyGiven, given: Signer | null, taken: Signer | null): boolean {
  const { carrier, trackingNumber } = cooler.fields;
  if (!given || !taken || !carrier || !trackingNumber) return false;
  if (given.to !== null && !isNamedIn(carrier, given.to)) return false;
  return isSealedFrom(seals, given.at, taken.at);
}

type Bare = Omit<Change, 'isCarrierLeg' | 'reading'>;

/**
 * Whether the last hand is that of the laboratory: where nothing says that it is of those who gave it away first, or of the
 * carrier.
 */
function isAtLaboratory(last: Signer, first: Signer | null | undefined, carrier: string | null | undefined): boolean {
  const { organization } = last;
  if (organization === null) return true;
  const isOwn = first?.organization != null && isNamedIn(first.organization, organization);
  return !isOwn && !(carrier && isNamedIn(carrier, organization));
}

/** The receipt of the laboratory is the other side of what was last relinquished, where nobody there signed for it. */
function withArrival(changes: readonly Bare[], given: CustodyGiven): readonly Bare[] {
  const arrival = arrivalSigner(given);
  const last = changes.at(-1);
  if (!arrival) return changes;
  const { by: arrived, isTooEarly } = arrival;
  const alone: Bare = { number: null, relinquished: null, received: arrived, place: null, purpose: null };
  if (!last) return [alone];
  // what came before it was given away is shown beside it, and asked about
  if (!last.received && last.relinquished && (isTooEarly || !isAfter(last.relinquished.at, arrived.at))) {
    return [...changes.slice(0, -1), { ...last, received: arrived }];
  }
  const isThere = isAtLaboratory(last.received ?? arrived, changes[0]?.relinquished, given.cooler.fields.carrier);
  if (last.received && !isThere) return [...changes, alone];
  return changes;
}

function changesOf(given: CustodyGiven): Pick<Custody, 'changes' | 'twice'> {
  const { pairs, twice } = handOverPairs(given.handOvers);
  const bare = pairs.map(({ number, relinquished, received }): Bare => {
    const place = relinquished?.fields.place ?? received?.fields.place ?? null;
    const purpose = relinquished?.fields.purpose ?? received?.fields.purpose ?? null;
    return { number, relinquished: signer(relinquished), received: signer(received), place, purpose };
  });
  const changes = withArrival(bare, given).map((one): Change => {
    const { relinquished, received } = one;
    const isLeg = isCarrierLeg(given, relinquished, received);
    if (!relinquished || !received) return { ...one, isCarrierLeg: isLeg, reading: null };
    const sides = { relinquishedAt: relinquished.at, receivedAt: received.at, isCarrierLeg: isLeg };
    const reading = handOverOrder(sides, CLOCKS_DIFFER_MIN);
    return { ...one, isCarrierLeg: isLeg, reading: isRefusal(reading) ? null : reading };
  });
  return { changes, twice };
}

function later(one: string, other: string | null): string {
  return other !== null && instantMs(other) > instantMs(one) ? other : one;
}

/** It was packed before it was given away, whatever was written down. */
function startOf([first]: readonly Change[], start: string | null): string | null {
  const signed = first?.relinquished?.at ?? first?.received?.at;
  return start === null || signed === undefined || instantMs(start) <= instantMs(signed) ? start : signed;
}

/**
 * From hand to hand, in the order of the changes. Where a clock was behind, a stretch begins and ends no earlier than the one
 * before it; what was signed stands in the changes.
 */
function stretchesOf(changes: readonly Change[], start: string | null): readonly Stretch[] {
  const stretches: Stretch[] = [];
  let held: Stretch = { holder: changes[0]?.relinquished?.name ?? null, from: startOf(changes, start), until: null };
  const next = (at: string, holder: string | null) => {
    const until = later(at, held.from);
    const isNothing = held.holder === null && held.from !== null && instantMs(held.from) === instantMs(until);
    if (!isNothing) stretches.push({ ...held, until });
    held = { holder, from: until, until: null };
  };
  for (const { relinquished, received } of changes) {
    if (relinquished) next(relinquished.at, null);
    if (received) next(received.at, received.name);
  }
  return [...stretches, held];
}

/** Who had a cooler from when until when, as far as it was recorded, and where nobody is on record. */
export function custodyOf(given: CustodyGiven): Custody {
  const { changes, twice } = changesOf(given);
  const start = given.cooler.fields.packed ?? given.collected;
  return {
    changes,
    twice,
    gaps: custodyGaps(changes, { start, cooler: given.cooler, seals: given.seals }),
    stretches: stretchesOf(changes, start),
  };
}
