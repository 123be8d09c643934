/** What the newest row of a feed carries. */
export interface Tail {
  readonly seq: number;
  readonly liveCount: number;
  readonly contentHash: Buffer;
  readonly historyHash: Buffer;
}

export const EMPTY_TAIL: Tail = {
  seq: 0,
  liveCount: 0,
  contentHash: Buffer.alloc(8),
  historyHash: Buffer.alloc(32),
};
