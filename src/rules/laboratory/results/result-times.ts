import { instantMs } from '../../../science/instant-ms.ts';
import type { CellFault } from './result-figure.ts';
import type { ResultCells } from './result-line.ts';

/** What is known of a sample beside a line. */
export interface KnownTimes {
  /** As whoever asks is told it; null where it is not known. */
  readonly collected: string | null;
  /** When the first of its bottles came to the laboratory. */
  readonly received: string | null;
  readonly now: string;
}

export type TimeColumn = 'extracted' | 'analyzed';

/** What no order of times explains is a problem; what a report without hours, a fast phone, or a cooler opened later, explains is a note. */
export interface TimeFault extends CellFault {
  readonly column: TimeColumn;
  readonly isNote: boolean;
}

/** A report that knows only the day writes midnight, in whatever zone. Common practice, no source. */
const DAY_MS = 24 * 60 * 60_000;

const DONE = { extracted: 'extracted', analyzed: 'analysed' } as const;

const COMPARE = 'compare both times, and the number of the sample';

function beforeFault(column: TimeColumn, at: string, than: string, what: string, toDo = COMPARE): readonly TimeFault[] {
  const early = instantMs(than) - instantMs(at);
  if (early <= 0) return [];
  const problem = `it was ${DONE[column]} before it was ${what} (${than})`;
  return [{ column, isNote: early <= DAY_MS, problem, toDo }];
}

/**
 * Before it was collected. The time of that is from the clock of a phone, which may have run days ahead, and a laboratory
 * cannot mend it: by itself it refuses nothing. Where the receipt bears it out, the report is wrong.
 */
function beforeCollected(column: TimeColumn, at: string, { collected, received }: KnownTimes): readonly TimeFault[] {
  if (collected === null) return [];
  const isBorneOut = received !== null && instantMs(received) >= instantMs(collected);
  if (isBorneOut) return beforeFault(column, at, collected, 'collected');
  const toDo = `${COMPARE}; where the report is right, tell the office, which can correct when it was collected`;
  return beforeFault(column, at, collected, 'collected', toDo).map((fault) => ({ ...fault, isNote: true }));
}

function ofColumn(column: TimeColumn, at: string, known: KnownTimes): readonly TimeFault[] {
  const { received, now } = known;
  if (instantMs(at) - instantMs(now) > DAY_MS) {
    const problem = `it has not come yet (here it is ${now})`;
    return [{ column, isNote: false, problem, toDo: 'compare the date with the report' }];
  }
  const early = beforeCollected(column, at, known);
  if (early.length > 0 || received === null) return early;
  // a receipt may have been typed late, so it is no more than worth a look
  return beforeFault(column, at, received, 'received').map((fault) => ({ ...fault, isNote: true }));
}

/** What is wrong with the times of a line: among themselves, and with what is known of the sample. */
export function timeFaults({ extracted, analyzed }: ResultCells, known: KnownTimes): readonly TimeFault[] {
  const order = extracted && analyzed ? beforeFault('analyzed', analyzed, extracted, 'extracted') : [];
  return [
    ...(extracted === undefined ? [] : ofColumn('extracted', extracted, known)),
    ...(analyzed === undefined ? [] : ofColumn('analyzed', analyzed, known)),
    ...order,
  ];
}
