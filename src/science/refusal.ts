/** Why a formula gives no number for what it was given: what was given, and what it needs. */
export interface Refusal {
  readonly refused: string;
}

export function refuse(reason: string): Refusal {
  return { refused: reason };
}

export function isRefusal(result: unknown): result is Refusal {
  return typeof result === 'object' && result !== null && 'refused' in result;
}
