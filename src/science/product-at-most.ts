/**
 * Whether a * b <= c * d for whole numbers, exactly. Products beyond 2^53 are compared as big integers, so that a long
 * reading costs time and never exactness.
 */
export function productAtMost(a: number, b: number, c: number, d: number): boolean {
  const left = a * b;
  const right = c * d;
  if (Number.isSafeInteger(left) && Number.isSafeInteger(right)) return left <= right;
  return BigInt(a) * BigInt(b) <= BigInt(c) * BigInt(d);
}
