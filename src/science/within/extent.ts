export interface Extent {
  readonly smallest: number;
  readonly largest: number;
  readonly sum: number;
  readonly first: number;
  readonly last: number;
}

/** What the arithmetics need to know of a window, in one pass. The sum is exact for 9 readings of up to 15 digits. */
export function extent(window: readonly number[]): Extent {
  const first = window[0] ?? 0;
  let smallest = first;
  let largest = first;
  let sum = 0;
  let last = first;
  for (const reading of window) {
    if (reading < smallest) smallest = reading;
    if (reading > largest) largest = reading;
    sum += reading;
    last = reading;
  }
  return { smallest, largest, sum, first, last };
}
