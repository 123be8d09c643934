import { type Refusal, refuse } from '../refusal.ts';

/**
 * How many times too large a volume comes out that is counted with the outside diameter, by which tubing is sold, where
 * the inside diameter holds the water: (OD / ID)^2.
 *
 * Source: geometry. Limits: round tubing.
 *
 * @example outsideOverstates(0.25, 0.17) // 2.16
 */
export function outsideOverstates(outsideDiameterIn: number, insideDiameterIn: number): number | Refusal {
  if (!(insideDiameterIn > 0 && outsideDiameterIn > insideDiameterIn && Number.isFinite(outsideDiameterIn)))
    return refuse(
      `Tubing of ${outsideDiameterIn} in outside and ${insideDiameterIn} in inside has no wall: the outside must be the larger one. Measure both.`,
    );
  return (outsideDiameterIn / insideDiameterIn) ** 2;
}
