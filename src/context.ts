import type pg from 'pg';
import type { Lane } from './writes/lane.ts';

/** What the doors stand on: made once at start, passed as an argument. */
export interface Context {
  readonly pool: pg.Pool;
  /** The one door for writes. */
  readonly lane: Lane;
  readonly now: () => Date;
}
