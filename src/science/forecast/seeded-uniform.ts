/** Gives a number above 0 and below 1 each time it is asked: chance as an argument. */
export type Uniform = () => number;

const MODULUS = 2_147_483_647;
const MULTIPLIER = 48_271;

/**
 * The minimal standard generator: x = 48271 x mod (2^31 - 1). The same seed gives the same numbers on every device, so
 * that a forecast can be repeated; it is no generator for secrets.
 *
 * Source: Park & Miller 1988, Communications of the ACM 31, 1192-1201, with the multiplier of Park, Miller & Stockmeyer
 * 1993 (from memory); the 10,000th number from seed 1 is 399268537, as the C++ standard gives for minstd_rand.
 *
 * @param seed any whole number; those that are equal modulo 2^31 - 2 give the same numbers
 */
export function seededUniform(seed: number): Uniform {
  const states = MODULUS - 1;
  let state = 1 + ((((Math.trunc(seed) - 1) % states) + states) % states);
  return () => {
    state = (state * MULTIPLIER) % MODULUS;
    return state / MODULUS;
  };
}
