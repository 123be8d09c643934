import type { StabilizationPlan } from '../../src/protocol/event-plan.ts';
import type { Axis, Placed } from './axis.ts';
import { compare, type Exact, exact, minus, size, times, whole } from './exact.ts';
import { type Quantity, said } from './values.ts';

export interface Interruption {
  /** On the axis, in milliseconds. */
  readonly at: number;
  readonly order: number;
  /** The first reading, by its number, that may be asked whether it counts. */
  readonly from: number;
}

export interface Walked {
  /** Of each reading: the flow last known after it. */
  readonly flowAfter: readonly (Exact | null)[];
  readonly interruptions: readonly Interruption[];
}

const ALWAYS = new Set([
  'pump-stopped',
  'pump-restarted',
  'sensor-recalibrated',
  'cell-cleaned',
  'intake-moved',
  'drive-gas-in-discharge',
]);

type Step =
  | { readonly is: 'occurrence'; readonly placed: Axis['occurrences'][number] }
  | { readonly is: 'reading'; readonly placed: Axis['readings'][number] };

const flowIn = (text: string | null | undefined) => (text == null ? null : exact(text));

/** Rule A4, from the prose: a walk through readings and occurrences in order. */
class Walk {
  readonly flowAfter: (Exact | null)[] = [];
  readonly interruptions: Interruption[] = [];
  private flow: Exact | null = null;
  private swapped = false;
  private readonly lastMeter = new Map<string, string>();
  private readonly plan: StabilizationPlan;
  private readonly quantities: readonly Quantity[];

  constructor(plan: StabilizationPlan, quantities: readonly Quantity[]) {
    this.plan = plan;
    this.quantities = quantities;
  }

  private differs(before: Exact, after: Exact): boolean {
    const percent = exact(this.plan.flowChangePercent ?? '10');
    return compare(times(size(minus(after, before)), whole(100)), times(percent, before)) > 0;
  }

  private interrupt(placed: Placed<unknown>, from: number): void {
    this.interruptions.push({ at: placed.at, order: placed.order, from });
  }

  occurrence(placed: Axis['occurrences'][number]): void {
    const { type, meter, flowMlPerMin } = placed.record.fields;
    const next = this.flowAfter.length;
    let interrupts = ALWAYS.has(type);
    if (type === 'flow-changed') {
      const after = flowIn(flowMlPerMin);
      interrupts = this.flow === null || after === null || this.differs(this.flow, after);
      this.flow = after;
    }
    if (type === 'meter-swapped') interrupts = meter == null || ![...this.lastMeter.values()].includes(meter);
    // Nothing interrupts before the first reading.
    if (!interrupts || next === 0) return;
    if (type === 'meter-swapped') this.swapped = true;
    this.interrupt(placed, next);
  }

  reading(placed: Axis['readings'][number]): void {
    const { meter, flowMlPerMin } = placed.record.fields;
    const number = this.flowAfter.length;
    const figures = this.quantities.filter((quantity) => said(placed.record, quantity, this.plan).is !== 'missing');
    const byOther =
      meter != null && figures.some((key) => this.lastMeter.has(key) && this.lastMeter.get(key) !== meter);
    const after = flowIn(flowMlPerMin);
    if (byOther || this.swapped) this.interrupt(placed, number + 1);
    else if (number > 0 && after !== null && this.flow !== null && this.differs(this.flow, after))
      this.interrupt(placed, number);
    if (meter != null) for (const key of figures) this.lastMeter.set(key, meter);
    this.swapped = false;
    this.flow = after ?? this.flow;
    this.flowAfter.push(this.flow);
  }
}

export function walk(axis: Axis, plan: StabilizationPlan, quantities: readonly Quantity[]): Walked {
  const steps: Step[] = [
    ...axis.occurrences.map((placed) => ({ is: 'occurrence', placed }) as const),
    ...axis.readings.map((placed) => ({ is: 'reading', placed }) as const),
  ].toSorted((a, b) => a.placed.order - b.placed.order);
  const walking = new Walk(plan, quantities);
  for (const step of steps)
    if (step.is === 'occurrence') walking.occurrence(step.placed);
    else walking.reading(step.placed);
  return walking;
}

/** The latest interruption at or before an end. */
export function latestInterruption(walked: Walked, endOrder: number): Interruption | undefined {
  return walked.interruptions.findLast(({ order }) => order <= endOrder);
}
