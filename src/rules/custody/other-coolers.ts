import { instantMs } from '../../science/instant-ms.ts';
import type { CoolerRecord, SealRecord } from '../samples/sample-records.ts';
import type { CustodyWorld } from './custody-records.ts';

/** Another cooler of the event, as far as its numbers may be taken for those of this one. */
export interface OtherCooler {
  readonly cooler: CoolerRecord;
  readonly seals: readonly SealRecord[];
  /** When it was opened at the laboratory; null where nobody says. */
  readonly received: string | null;
}

/** Numbers are told with and without spaces and dashes. */
export function plainNumber(number: string): string {
  return number.replace(/[\s-]/g, '').toUpperCase();
}

export function otherCoolers(id: string, { coolers, seals, receipts }: CustodyWorld): readonly OtherCooler[] {
  return coolers
    .filter((one) => one.id !== id)
    .map((cooler) => ({
      cooler,
      seals: seals.filter(({ fields }) => fields.cooler === cooler.id),
      received: firstOf(receipts.flatMap(({ fields }) => (fields.cooler === cooler.id ? fields.received : []))),
    }));
}

function firstOf(times: readonly string[]): string | null {
  return times.toSorted((a, b) => instantMs(a) - instantMs(b))[0] ?? null;
}

/** A time with a beginning and an end, where those are known. */
export interface Span {
  readonly from: string | null;
  readonly until: string | null;
}

/** One that began at an unknown time began after whatever has ended: a cooler comes back and is packed again. */
function isAfter({ from }: Span, { until }: Span): boolean {
  return until !== null && (from === null || instantMs(until) <= instantMs(from));
}

export function isAtOnce(one: Span, other: Span): boolean {
  return !isAfter(one, other) && !isAfter(other, one);
}
