import type pg from 'pg';
import type { Records } from '../store/records.ts';

/** What the questions about records stand on. */
export interface ReadContext {
  readonly pool: pg.Pool;
  readonly records: Records;
}
