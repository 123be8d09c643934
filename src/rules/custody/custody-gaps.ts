import { instantMs } from '../../science/instant-ms.ts';
import type { CoolerRecord, SealRecord } from '../samples/sample-records.ts';
import { isAfter } from './clocks.ts';
import { type Change, isSealedFrom, type Signer } from './custody-change.ts';
import { isNamedIn, isSameName } from './same-person.ts';

/**
 * `between-signatures`: given, and received later. `between-people`: one received it, another gave it on. `not-received`:
 * given, and then given on by somebody. `not-relinquished`: received from whom nobody says. `nobody-signed`: it came to the
 * laboratory without any signature.
 */
export type GapKind = 'between-signatures' | 'between-people' | 'not-received' | 'not-relinquished' | 'nobody-signed';

/** A time for which nobody is on record as having the cooler. */
export interface Gap {
  readonly kind: GapKind;
  readonly from: string | null;
  readonly until: string | null;
  readonly sentence: string;
  readonly records: readonly string[];
}

interface Around {
  readonly start: string | null;
  readonly cooler: CoolerRecord;
  readonly seals: readonly SealRecord[];
}

/** What it takes for the time with a carrier to count, and what of it is missing. */
function missingOfLeg({ cooler, seals }: Around, from: string, until: string): string {
  const { carrier, trackingNumber } = cooler.fields;
  if (!carrier) return '';
  if (!trackingNumber) return ` ${carrier} is named as carrier, without a number to follow it by.`;
  if (!isSealedFrom(seals, from, until)) {
    return ` ${carrier} had number ${trackingNumber}, but no seal is on record as whole from the one to the other.`;
  }
  return '';
}

function inSignatures({ relinquished, received, reading }: Change, around: Around): Gap | null {
  if (!relinquished || !received || !reading) return null;
  // a receipt that is told as the earlier says nothing of when it came
  const isTooEarly = received.isReceipt && reading.order === 'question';
  if (!reading.isGap && !isTooEarly) return null;
  const to = relinquished.to ? ` to ${relinquished.to}` : '';
  return {
    kind: 'between-signatures',
    from: relinquished.at,
    until: received.at,
    sentence: `${relinquished.name} relinquished it${to}, and ${received.name} received it${isTooEarly ? ' by its receipt' : ' later'}.${isTooEarly ? '' : missingOfLeg(around, relinquished.at, received.at)}`,
    records: [relinquished.record, received.record],
  };
}

function isSamePerson(one: Signer, other: Signer): boolean {
  return isSameName(one.name, other.name);
}

/** A carrier under whose number it went need not sign that it gave it on. */
function isFromCarrier({ cooler, seals }: Around, held: Signer, taken: Signer): boolean {
  const { carrier, trackingNumber } = cooler.fields;
  if (!carrier || !trackingNumber) return false;
  return isNamedIn(carrier, held.organization ?? held.name) && isSealedFrom(seals, held.at, taken.at);
}

function notRelinquished(received: Signer, held: Signer | null, around: Around): Gap | null {
  const { start } = around;
  if (held && (isFromCarrier(around, held, received) || isSamePerson(held, received))) return null;
  const records = [...(held ? [held.record] : []), received.record];
  const from = held?.at ?? start;
  if (received.isReceipt && !held) {
    const sentence = 'The laboratory received it, and nobody signed that they relinquished it.';
    return { kind: 'nobody-signed', from, until: received.at, sentence, records };
  }
  const before = held ? `${held.name} had it` : 'nobody is on record as having it';
  const sentence = `${received.name} received it, and nobody signed that they relinquished it: before, ${before}.`;
  return { kind: 'not-relinquished', from, until: received.at, sentence, records };
}

function betweenPeople(relinquished: Signer, held: Signer | null): Gap | null {
  if (!held || isSamePerson(held, relinquished)) return null;
  const sentence = `${held.name} received it, and ${relinquished.name} relinquished it: how it came from the one to the other is not on record.`;
  return {
    kind: 'between-people',
    from: held.at,
    until: relinquished.at,
    sentence,
    records: [held.record, relinquished.record],
  };
}

function notReceived(relinquished: Signer, next: Change, around: Around): Gap | null {
  const after = next.relinquished ?? next.received;
  if (!after || !isAfter(after.at, relinquished.at)) return null;
  const to = relinquished.to ? ` to ${relinquished.to}` : '';
  return {
    kind: 'not-received',
    from: relinquished.at,
    until: after.at,
    sentence: `${relinquished.name} relinquished it${to}, nobody signed that they received it, and ${after.name} had it next.${missingOfLeg(around, relinquished.at, after.at)}`,
    records: [relinquished.record, after.record],
  };
}

/** Of times that run back none is when the gap began or ended: one of the two is wrong, and nobody knows which. */
function inTime(gap: Gap): Gap {
  const { from, until } = gap;
  if (from === null || until === null || instantMs(from) <= instantMs(until)) return gap;
  const sentence = `${gap.sentence} By the times on record the second of these was before the first: one of them is wrong, and for how long nobody is on record cannot be told.`;
  return { ...gap, from: null, until: null, sentence };
}

/** Where nobody is on record as having a cooler. What is still under way is no gap. */
export function custodyGaps(changes: readonly Change[], around: Around): readonly Gap[] {
  const gaps: Gap[] = [];
  let held: Signer | null = null;
  for (const [at, change] of changes.entries()) {
    const { relinquished, received } = change;
    const next = changes[at + 1];
    // where the side before is missing as well, that was told there
    const isTold = at > 0 && held === null;
    const taken = isTold ? null : received;
    const found = [
      relinquished ? betweenPeople(relinquished, held) : taken && notRelinquished(taken, held, around),
      inSignatures(change, around),
      relinquished && !received && next ? notReceived(relinquished, next, around) : null,
    ];
    gaps.push(...found.filter((gap) => gap !== null).map(inTime));
    held = received;
  }
  return gaps;
}
