import { instantMs } from '../../science/instant-ms.ts';
import { clockCorrection } from '../clock-correction.ts';
import type { CoolerRecord, HandOverRecord, ReceiptRecord, SealRecord } from '../samples/sample-records.ts';
import type { CoolerFacts } from './cooler-facts.ts';
import type { Change } from './custody-change.ts';
import { isWithinFirm } from './leaves-firm.ts';

/** That somebody put their name to what is in a cooler: a hand-over, a receipt, a seal. */
export interface Signature {
  readonly record: string;
  /** As signed. */
  readonly at: string;
  /** From when on it is known: as signed, or as typed where that was later, by a corrected clock. */
  readonly sinceMs: number;
  /** A seal says nothing any more once it is broken. */
  readonly untilMs: number | null;
  /** Who wrote it down, as long as nobody changed it since. */
  readonly client: string | null;
  readonly mutation: number | null;
  /** "Ann Poe relinquished it". */
  readonly says: string;
}

type Signed = HandOverRecord | ReceiptRecord | SealRecord;

function signature(record: Signed, at: string, says: string, until: string | null = null): Signature {
  const { id, rev, client, mutation, clock, fields } = record;
  // of what was changed since, client and clock are no longer those of who signed
  const own = rev === 1 ? { client, mutation } : { client: null, mutation: null };
  const { addMs } = clockCorrection(rev === 1 ? clock : null);
  const sinceMs = Math.max(instantMs(at), instantMs(fields.observed.entered)) + addMs;
  return { record: id, at, sinceMs, untilMs: until === null ? null : instantMs(until) + addMs, ...own, says };
}

/** From one to another of the same firm before the cooler was closed: the next day more is packed. */
function isWhilePacked({ fields: { packed } }: CoolerRecord, { sinceMs }: Signature, change: Change | undefined) {
  return packed != null && sinceMs < instantMs(packed) && change !== undefined && isWithinFirm(change);
}

/** All that was signed of what is in a cooler. */
export function signaturesOf({ cooler, seals, handOvers, receipts, custody }: CoolerFacts): readonly Signature[] {
  const changeOf = (record: string) =>
    custody.changes.find(
      ({ relinquished, received }) => relinquished?.record === record || received?.record === record,
    );
  const hands = handOvers.map((one) => signature(one, one.fields.at, `${one.fields.name} ${one.fields.side} it`));
  return [
    ...hands.filter((one) => !isWhilePacked(cooler, one, changeOf(one.record))),
    ...receipts.map((one) =>
      signature(one, one.fields.received, `${one.fields.receivedBy ?? 'the laboratory'} opened it`),
    ),
    ...seals.map((one) =>
      signature(one, one.fields.applied, `seal ${one.fields.number} was put on`, one.fields.broken ?? null),
    ),
  ];
}
