import { existsSync } from 'node:fs';
import path from 'node:path';
import type { Row } from '../row.ts';

const READ = path.join(import.meta.dirname, '../../../src/reads/event-status.ts');

/** The row is written as soon as there is a read to measure. */
export function eventStatusRow(): Row {
  const absent = existsSync(READ) ? 'not measured yet' : 'not built';
  const against = 'its own SQL alone';
  return {
    name: 'event status of a 200-well event',
    against,
    unit: 'ms',
    measure: 'time',
    target: 3,
    rounds: [],
    absent,
  };
}
