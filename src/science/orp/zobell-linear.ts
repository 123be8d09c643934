import { type Refusal, refuse } from '../refusal.ts';

/**
 * Potential of ZoBell's solution in the short form 428 - 2.2 (t - 25).
 *
 * Source: a handbook chapter, doi 10.1201/b10505-51 (abstract). It equals the table of Standard Methods 2580 at 10, 15,
 * 20, 25 and 30 °C and is offered between them. Limits: 10 to 30 °C.
 *
 * @returns millivolts
 * @example zobellLinearMv(10) // 461
 */
export function zobellLinearMv(temperatureC: number): number | Refusal {
  if (!(temperatureC >= 10 && temperatureC <= 30))
    return refuse(
      `ZoBell's solution of ${temperatureC} °C is outside 10 to 30 °C, where the short form fits its table.`,
    );
  return 428 - 2.2 * (temperatureC - 25);
}
