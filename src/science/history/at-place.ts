/** The value at a place counted from 1, between two of the row where the place is no whole number; NaN outside. */
export function atPlace(row: readonly number[], place: number): number {
  const below = row[Math.floor(place) - 1] ?? Number.NaN;
  const above = row[Math.ceil(place) - 1] ?? Number.NaN;
  return below === above ? below : below + (above - below) * (place - Math.floor(place));
}
