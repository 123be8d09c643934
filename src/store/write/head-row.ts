/** Where the newest state of a record in a feed is found. */
export interface HeadRow {
  readonly feed: string;
  readonly id: string;
  readonly kind: string;
  readonly seq: number;
  readonly rev: number;
  readonly gone: boolean;
  readonly parent: string | null;
  readonly visit: string | null;
  readonly rowHash: Buffer | null;
  readonly merge: string | null;
}
