import { instantMs } from '../../science/instant-ms.ts';

/** A record of something that is read now and then. */
export interface Entered {
  readonly id: string;
  /** As entered, with offset. */
  readonly at: string;
}

/**
 * By the times as entered and then by id, whatever the clocks say: so a database knows as well which of the records of a
 * visit is the first and which the last.
 */
export function enteredOrder(a: Entered, b: Entered): number {
  const ms = instantMs(a.at) - instantMs(b.at);
  return ms || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);
}
