import type { EventSamples } from '../samples/event-samples.ts';

type One<List extends keyof EventSamples> = EventSamples[List] extends readonly (infer Item)[] ? Item : never;
export type CoolerRecord = One<'coolers'>;
export type SealRecord = One<'seals'>;
export type HandOverRecord = One<'handOvers'>;
export type CheckRecord = One<'coolerChecks'>;
export type ReceiptRecord = One<'receipts'>;
export type ReceiptItem = NonNullable<ReceiptRecord['fields']['items']>[number];
export type ContainerRecord = One<'containers'>;
export type FillRecord = One<'fills'>;

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
>;
