import { millionths } from '../../science/millionths.ts';
import { productAtMost } from '../../science/product-at-most.ts';
import { percentRatio, type Ratio } from '../../science/ratio.ts';
import type { OccurrenceRecord, ReadingRecord } from './assessment-input.ts';
import type { Series } from './series.ts';
import type { Placed } from './timeline.ts';

/** Something after which the readings before it no longer say that the water is stable. */
export interface Interruption {
  readonly atMs: number;
  /** What happened, for a sentence: "the meter was swapped". */
  readonly what: string;
  /** The occurrence, or the reading that shows it. */
  readonly record: string;
  /** The reading that starts the clock and does not count itself, -1 where there is none. */
  readonly uncounted: number;
}

const INTERRUPTING: Readonly<Partial<Record<OccurrenceRecord['fields']['type'], string>>> = {
  'pump-stopped': 'the pump was stopped',
  'pump-restarted': 'the pump was restarted',
  'sensor-recalibrated': 'a sensor was recalibrated',
  'cell-cleaned': 'the flow cell was cleaned',
  'intake-moved': 'the intake was moved',
  'drive-gas-in-discharge': 'drive gas came with the water',
};

/** Whether a flow differs from the one before by more than the share of the one before. */
export function isOtherFlow(before: string, after: string, share: Ratio): boolean {
  if (before === after) return false;
  const base = millionths(before);
  return !productAtMost(Math.abs(millionths(after) - base), share.base, share.difference, base);
}

/** Walks through a purge and notes, reading by reading, the latest interruption before it. */
export class InterruptionWatch {
  latest: Interruption | null = null;
  /** The flow last known: measured with a reading, or said when it was changed. */
  flow: string | null = null;
  #begun = false;
  #swapped: OccurrenceRecord | null = null;
  /** The meter that last read each series. */
  readonly #meters: string[] = [];
  readonly #share: Ratio;

  readonly #series: readonly Series[];

  constructor(flowChangePercent: string, series: readonly Series[]) {
    this.#share = percentRatio(flowChangePercent);
    this.#series = series;
  }

  /** What happens before the first reading interrupts nothing: no window has begun. */
  #interrupt(atMs: number, what: string, record: string, uncounted = -1): void {
    if (this.#begun) this.latest = { atMs, what, record, uncounted };
  }

  occurrence({ record, atMs }: Placed<OccurrenceRecord>): void {
    const { type } = record.fields;
    if (type === 'flow-changed') this.#flowChanged(record, atMs);
    if (type === 'meter-swapped') this.#meterSwapped(record, atMs);
    const what = INTERRUPTING[type];
    if (what !== undefined) this.#interrupt(atMs, what, record.id);
  }

  #flowChanged({ id, fields }: OccurrenceRecord, atMs: number): void {
    const before = this.flow;
    const after = fields.flowMlPerMin ?? null;
    this.flow = after;
    const small = before !== null && after !== null && !isOtherFlow(before, after, this.#share);
    if (!small) this.#interrupt(atMs, 'the flow was changed', id);
  }

  /** A swap that the readings already show, because it was noted after the first of them, is not counted again. */
  #meterSwapped(record: OccurrenceRecord, atMs: number): void {
    const { meter } = record.fields;
    if (meter !== undefined && this.#meters.includes(meter)) return;
    this.#swapped = record;
    this.#interrupt(atMs, 'the meter was swapped', record.id);
  }

  reading({ record, atMs }: Placed<ReadingRecord>, index: number): void {
    const { meter, flowMlPerMin } = record.fields;
    const swapped = meter !== undefined && this.#isOtherMeter(index, meter);
    if (swapped || this.#swapped !== null) {
      this.#interrupt(atMs, 'the meter was swapped', this.#swapped?.id ?? record.id, index);
    } else if (flowMlPerMin !== undefined && this.flow !== null && isOtherFlow(this.flow, flowMlPerMin, this.#share)) {
      this.#interrupt(atMs, 'the flow changed', record.id);
    }
    this.#swapped = null;
    this.flow = flowMlPerMin ?? this.flow;
    this.#begun = true;
  }

  /** Two meters side by side, one for turbidity, are no swap: only another meter for the same parameter is. */
  #isOtherMeter(index: number, meter: string): boolean {
    let swapped = false;
    for (let at = 0; at < this.#series.length; at += 1) {
      if (this.#series[at]?.quantities[index] === undefined) continue;
      const before = this.#meters[at];
      if (before !== undefined && before !== meter) swapped = true;
      this.#meters[at] = meter;
    }
    return swapped;
  }
}
