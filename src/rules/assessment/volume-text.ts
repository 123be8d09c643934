/** From so many millilitres on a crew thinks in litres, as of a bucket. */
const LITRES_FROM_ML = 10_000;

/** A volume as a sentence says it: "950.0 mL", "246.5 L". */
export function volumeText(volumeMl: number): string {
  if (volumeMl >= LITRES_FROM_ML) return `${(volumeMl / 1_000).toFixed(1)} L`;
  return `${volumeMl.toFixed(1)} mL`;
}
