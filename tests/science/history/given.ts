import { isRefusal, type Refusal } from '../../../src/science/refusal.ts';

/** The answer, or a failed test that says why there is none. */
export function given<Answer>(result: Answer | Refusal): Answer {
  if (isRefusal(result)) throw new Error(`refused: ${result.refused}`);
  return result;
}

/** Why there is no answer, or a failed test that shows the answer. */
export function refusal(result: unknown): string {
  if (!isRefusal(result)) throw new Error(`not refused: ${JSON.stringify(result)}`);
  return result.refused;
}
