import { instantMs } from '../../../science/instant-ms.ts';
import { compareText } from '../../../science/units/decimal-arithmetic.ts';
import type { ReceiptGiven } from './receipt-given.ts';

/**
 * What a receipt can say only by a slip of the pen, and what is merely doubtful. Common practice, no source; the temperatures
 * are what water and what it is shipped in can have: it boils at 100 °C, and dry ice, the coldest thing in a cooler, is at
 * -78.5 °C. An infrared thermometer is off by some degrees there, and a pH meter goes beyond its scale in strong acid.
 */
export const RECEIPT_SENSE = {
  boilingC: '100',
  coldestC: '-100',
  doubtfulBelowC: '-80',
  /** Nobody ships samples in such heat; a thermometer that shows °F does so of a cool one. */
  doubtfulFromC: '30',
  lowestPh: '-2',
  highestPh: '16',
  phScale: { from: '0', to: '14' },
  /** Clocks of two houses differ by less, as a rule; a date of the day after tomorrow is a slip. */
  doubtfulAheadMs: 60 * 60_000,
  aheadMs: 24 * 60 * 60_000,
  /** Vials of 40 mL fill the largest cooler that is carried with fewer; many coolers may have come under one receipt. */
  doubtfulBottles: 1_000,
  mostBottles: 20_000,
} as const;

export interface ReceiptFault {
  readonly pointer: string;
  readonly fault: string;
}

export function isOutside(value: string, from: string, to: string): boolean {
  return compareText(value, from) < 0 || compareText(value, to) > 0;
}

function temperatureFault(pointer: string, value: string | undefined): readonly ReceiptFault[] {
  const { coldestC, boilingC } = RECEIPT_SENSE;
  if (value === undefined || !isOutside(value, coldestC, boilingC)) return [];
  const fault = `${value} °C is no temperature of a cooler (${coldestC} to ${boilingC}): read the thermometer again and send it in °C, or leave it out, and it is recorded that none was taken`;
  return [{ pointer, fault }];
}

function phFault(pointer: string, value: string | undefined): readonly ReceiptFault[] {
  const { lowestPh, highestPh } = RECEIPT_SENSE;
  if (value === undefined || !isOutside(value, lowestPh, highestPh)) return [];
  return [{ pointer, fault: `pH ${value} is beyond ${lowestPh} to ${highestPh}: correct it, or leave it out` }];
}

function timeFault({ received }: ReceiptGiven, now: string): readonly ReceiptFault[] {
  if (instantMs(received) - instantMs(now) <= RECEIPT_SENSE.aheadMs) return [];
  const fault = `${received} has not come yet (here it is ${now}): give date, time and offset at which it was received`;
  return [{ pointer: '/received', fault }];
}

function countFault({ containersCounted = 0 }: ReceiptGiven): readonly ReceiptFault[] {
  const { mostBottles } = RECEIPT_SENSE;
  if (containersCounted <= mostBottles) return [];
  const fault = `${containersCounted} bottles are more than one receipt is for (at most ${mostBottles}): count again, or send a receipt for each cooler`;
  return [{ pointer: '/containersCounted', fault }];
}

/** What a receipt says that can only be a typing error, each with what to do; what is merely doubtful is an open item. */
export function receiptFaults(given: ReceiptGiven, now: string): readonly ReceiptFault[] {
  return [
    ...timeFault(given, now),
    ...temperatureFault('/temperatureC', given.temperatureC),
    ...countFault(given),
    ...(given.items ?? []).flatMap(({ temperatureC, ph }, at) => [
      ...temperatureFault(`/items/${at}/temperatureC`, temperatureC),
      ...phFault(`/items/${at}/ph`, ph),
    ]),
  ];
}
