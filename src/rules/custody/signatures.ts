import { instantMs } from '../../science/instant-ms.ts';
import { measuredCorrection, NOTED_DIFFERENCE_MS } from '../clock-correction.ts';
import type { HandOverRecord, ReceiptRecord, SealRecord } from '../samples/sample-records.ts';
import { timeText, UNMEASURED_MS } from './clocks.ts';
import type { CoolerFacts } from './cooler-facts.ts';
import type { Change } from './custody-change.ts';
import { showsAnotherFirm } from './leaves-firm.ts';

/** That somebody put their name to what is in a cooler: a hand-over, a receipt, a seal. */
export interface Signature {
  readonly record: string;
  /** As signed. */
  readonly at: string;
  /** When it was by a right clock, where that of the phone was off by more than is ordinary. */
  readonly corrected?: string;
  /** From when on it is known: as signed, or as typed where that was later, by a corrected clock. */
  readonly sinceMs: number;
  /** By how much that may be off. */
  readonly uncertaintyMs: number;
  /** A seal says nothing any more once it is broken. */
  readonly untilMs: number | null;
  /** Who wrote it down. */
  readonly client: string | null;
  readonly mutation: number | null;
  /** "Ann Poe relinquished it". */
  readonly says: string;
}

/** The writing client and its mutation by which a record came. */
export interface Writer {
  readonly client: string | null;
  readonly mutation: number | null;
}

/** Who wrote down first what was changed since, by record. */
export type Writers = ReadonlyMap<string, Writer>;

const NOBODY_KNOWN: Writers = new Map();
const UNKNOWN: Writer = { client: null, mutation: null };

type Signed = HandOverRecord | ReceiptRecord | SealRecord;

/** Only what was signed as it was typed has the time of the phone: paper and watches have their own. */
function correctedAt(atMs: number, enteredMs: number, addMs: number): Pick<Signature, 'corrected'> {
  const isOfPhone = Math.abs(atMs - enteredMs) <= UNMEASURED_MS;
  if (!isOfPhone || Math.abs(addMs) <= NOTED_DIFFERENCE_MS) return {};
  return { corrected: new Date(atMs + addMs).toISOString() };
}

/**
 * From when on it is known. What was signed later than it was typed is no time of a clock that is behind by that much:
 * somebody read it from a watch.
 */
function knownMs(atMs: number, enteredMs: number, addMs: number): number {
  const isFromWatch = Math.abs(atMs - enteredMs - addMs) < atMs - enteredMs;
  return isFromWatch ? Math.max(atMs, enteredMs + addMs) : Math.max(atMs, enteredMs) + addMs;
}

/** A record goes on to tell the clock of its first state, but client and mutation of its last: those who signed wrote the first. */
function signature(record: Signed, at: string, says: string, writers: Writers): Signature {
  const { id, rev, client, mutation, clock, fields } = record;
  const own = rev === 1 ? { client, mutation } : (writers.get(id) ?? UNKNOWN);
  const { addMs, uncertaintyMs } = measuredCorrection(clock, UNMEASURED_MS);
  const times = [instantMs(at), instantMs(fields.observed.entered), addMs] as const;
  const sinceMs = knownMs(...times);
  return {
    record: id,
    at,
    ...correctedAt(...times),
    sinceMs,
    uncertaintyMs,
    untilMs: null,
    client: own.client,
    mutation: own.mutation,
    says,
  };
}

/** Whoever breaks a seal may have another clock than who put it on. */
function brokenMs({ rev, client, clock, fields: { broken } }: SealRecord, signed: Signature): number | null {
  if (broken == null) return null;
  const isOneClient = rev === 1 || (client !== null && client === signed.client);
  return instantMs(broken) + (isOneClient ? measuredCorrection(clock, UNMEASURED_MS).addMs : 0);
}

function sealed(seal: SealRecord, writers: Writers): Signature {
  const signed = signature(seal, seal.fields.applied, `seal ${seal.fields.number} was put on`, writers);
  return { ...signed, untilMs: brokenMs(seal, signed) };
}

/**
 * From one to another of the same firm before the cooler was closed: the next day more is packed. It is not closed either
 * as long as nobody said when.
 */
function isWhilePacked(facts: CoolerFacts, { sinceMs }: Signature, change: Change | undefined): boolean {
  const { packed } = facts.cooler.fields;
  const isOpen = packed == null || sinceMs < instantMs(packed);
  return isOpen && change !== undefined && !showsAnotherFirm(change, facts);
}

/** By one clock with what was written since; and as it stands on the record, where that is another time. */
export function signedText({ at, corrected }: Signature, timeZone: string | null): string {
  if (corrected === undefined) return timeText(at, timeZone);
  return `${timeText(corrected, timeZone)} (by a clock that was off: ${timeText(at, timeZone)})`;
}

/**
 * Who gave a cooler away or took it over, also while it was packed.
 *
 * @param writers of what was changed since; of what they do not name only the times are known
 */
export function handOverSignatures({ handOvers }: CoolerFacts, writers: Writers = NOBODY_KNOWN): readonly Signature[] {
  return handOvers.map((one) => signature(one, one.fields.at, `${one.fields.name} ${one.fields.side} it`, writers));
}

/**
 * All that was signed of what is in a cooler.
 *
 * @param writers of what was changed since; of what they do not name only the times are known
 */
export function signaturesOf(facts: CoolerFacts, writers: Writers = NOBODY_KNOWN): readonly Signature[] {
  const { seals, receipts, custody } = facts;
  const changeOf = (record: string) =>
    custody.changes.find(
      ({ relinquished, received }) => relinquished?.record === record || received?.record === record,
    );
  return [
    ...handOverSignatures(facts, writers).filter((one) => !isWhilePacked(facts, one, changeOf(one.record))),
    ...receipts.map((one) =>
      signature(one, one.fields.received, `${one.fields.receivedBy ?? 'the laboratory'} opened it`, writers),
    ),
    ...seals.map((one) => sealed(one, writers)),
  ];
}
