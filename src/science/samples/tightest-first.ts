import { instantMs } from '../instant-ms.ts';

/**
 * What is due, the earliest first; what has no date comes last. What is due at the same instant keeps its order.
 *
 * Source: none needed; the shortest clock of what travels together governs its shipment.
 */
export function tightestFirst<T extends { readonly dueAt: string | null }>(due: readonly T[]): readonly T[] {
  const at = ({ dueAt }: T) => (dueAt === null ? Number.POSITIVE_INFINITY : instantMs(dueAt));
  return due.toSorted((a, b) => (at(a) < at(b) ? -1 : at(a) > at(b) ? 1 : 0));
}
