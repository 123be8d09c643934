/** A published series of values by temperature, as it stands in its source. */
export interface StandardTable<Id extends string = string> {
  readonly id: Id;
  /** How it is named in a sentence. */
  readonly name: string;
  readonly unit: 'pH' | 'µS/cm' | 'mV' | '1';
  /** Temperatures in °C in rising order, each with the value there. */
  readonly points: readonly (readonly [temperatureC: string, value: string])[];
  readonly source: string;
  /** Date of the edition, as exactly as it is known. */
  readonly dated: string;
  /** Whether the values were read in the source, or in the copy that it names. */
  readonly verified: boolean;
  readonly note?: string;
}

/** Values at evenly spaced temperatures as points of a table. */
export function every(stepC: number, fromC: number, values: string): StandardTable['points'] {
  return values.split(' ').map((value, index) => [String(fromC + stepC * index), value] as const);
}
