import { isRefusal } from '../../../src/science/refusal.ts';

export function given<T>(result: T): Exclude<T, { refused: string }> {
  if (isRefusal(result)) throw new Error(result.refused);
  return result as Exclude<T, { refused: string }>;
}

export function why(result: unknown): string {
  return isRefusal(result) ? result.refused : `gave ${JSON.stringify(result)}`;
}
