import type { EventSamples } from '../samples/event-samples.ts';
import type { ReceiptRecord } from '../samples/sample-records.ts';

export type ReceiptItem = NonNullable<ReceiptRecord['fields']['items']>[number];

/** What custody is judged by. Only what hangs on a cooler is looked at, so that the rest of the event may be left out. */
export type CustodyWorld = Pick<
  EventSamples,
  | 'event'
  | 'site'
  | 'samples'
  | 'blanks'
  | 'plannedSamples'
  | 'containers'
  | 'fills'
  | 'coolers'
  | 'seals'
  | 'handOvers'
  | 'coolerChecks'
  | 'receipts'
  | 'laboratories'
  | 'suites'
>;
