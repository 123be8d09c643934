import type { HandOverReading } from '../../science/samples/hand-over-order.ts';
import type { SealRecord } from '../samples/sample-records.ts';
import { isAfter } from './clocks.ts';

/** Who signed on one side of a change of custody, and the record that says so. */
export interface Signer {
  readonly record: string;
  readonly at: string;
  readonly name: string;
  readonly organization: string | null;
  /** Of who relinquished: to whom. */
  readonly to: string | null;
  /** Not signed as a hand-over: the laboratory recorded that it received the cooler. */
  readonly isReceipt: boolean;
}

export interface Change {
  readonly number: number | null;
  readonly relinquished: Signer | null;
  readonly received: Signer | null;
  readonly place: string | null;
  readonly purpose: string | null;
  /** A carrier had it between the two, closed and with a number to follow it by. */
  readonly isCarrierLeg: boolean;
  readonly reading: HandOverReading | null;
}

/** It was put on by then, and nobody broke it before it was received. */
export function isWholeFrom({ fields: { applied, broken } }: SealRecord, from: string, until: string): boolean {
  return !isAfter(applied, from) && (broken == null || !isAfter(until, broken));
}

/** A seal that was put on before it was given, and that nobody broke before it was received. */
export function isSealedFrom(seals: readonly SealRecord[], from: string, until: string): boolean {
  return seals.some((seal) => isWholeFrom(seal, from, until));
}
