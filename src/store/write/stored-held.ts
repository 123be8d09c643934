import type { Held } from '../../rules/held.ts';

/** A stored record with the hash of its row, which the content hash of its feed is made of. */
export interface StoredHeld extends Held {
  readonly rowHash: Buffer;
}
