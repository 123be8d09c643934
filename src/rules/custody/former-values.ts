import type { Written } from './contents-changes.ts';

/** A value that a record had before it was corrected, as its history tells it. */
export interface FormerValue {
  readonly record: string;
  readonly kind: string;
  readonly field: string;
  /** As text; empty where there was none. */
  readonly was: string;
  readonly is: string;
  /** When the server took the correction. */
  readonly at: string;
  /** When its device captured it, which is to be compared with signatures and printed nowhere: it may tell when a sample was taken. */
  readonly written: Written;
  /** Who made it; null where no person is known. */
  readonly by: string | null;
  /** As that person writes them on a field sheet. */
  readonly initials?: string | null;
  readonly reason: string | null;
}
