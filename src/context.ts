import type pg from 'pg';
import type { Records } from './store/records.ts';
import type { Lane } from './writes/lane.ts';

/** What the doors stand on: made once at start, passed as an argument. */
export interface Context {
  readonly pool: pg.Pool;
  /** Plain typed reads of records, over the same pool. */
  readonly records: Records;
  /** The one door for writes. */
  readonly lane: Lane;
  readonly now: () => Date;
  /** The operator promises that whatever is committed is on two machines: then no backup is needed for it to be durable. */
  readonly replicated?: boolean;
  /** What a newer version of the program has done to the tables since this process was started. */
  readonly newerMigrations?: () => Promise<readonly string[]>;
}
