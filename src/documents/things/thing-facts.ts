import type { RecordedPlace } from '../geo/place-of-well.ts';
import type { SeriesQuantity } from './series-quantities.ts';

/** A well with what was measured in it, as OGC SensorThings tells it: the well is the thing. */
export interface WellThing extends RecordedPlace {
  readonly id: string;
  readonly name: string;
  readonly description?: string;
  readonly properties?: Readonly<Record<string, string>>;
  /** One series a quantity; each has an id of its own. */
  readonly series: readonly ThingSeries[];
}

export interface ThingSeries {
  readonly id: string;
  readonly quantity: SeriesQuantity;
  /** What it was measured with; several instruments over the years are told as what they have in common. */
  readonly sensor: { readonly id: string; readonly name: string; readonly description: string };
  readonly observations: Iterable<ThingObservation>;
}

export interface ThingObservation {
  readonly id: string;
  /** When it was observed, as entered, with its offset. */
  readonly phenomenonTime: string;
  /** When the result came to be: when it was written down. */
  readonly resultTime: string;
  /** Absent: looked for and not measured, as in a dry well. */
  readonly result?: string;
  readonly quality?: string;
  readonly parameters?: Readonly<Record<string, string>>;
}
