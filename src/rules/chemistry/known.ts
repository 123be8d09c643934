import { isRefusal, type Refusal } from '../../science/refusal.ts';

/** Goes on with a value where there is one; a refusal stays what it is. */
export function ifKnown<Value, Result>(value: Value | Refusal, then: (value: Value) => Result): Result | Refusal {
  return isRefusal(value) ? value : then(value);
}

/** What a value makes, or null where it was refused: for an answer that leaves out what cannot be known. */
export function orNull<Value, Result>(value: Value | Refusal, then: (value: Value) => Result): Result | null {
  return isRefusal(value) ? null : then(value);
}
