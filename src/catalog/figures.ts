import type { AbsoluteTolerance, AtMost, Branch, Figure, PercentTolerance } from './criteria-set.ts';

/** A number that was read in its document; `source` where that is not the source of the set. */
export function seen(value: string, source?: string): Figure {
  const figure = { value, verified: true, status: 'seen' } as const;
  return source === undefined ? figure : { ...figure, source };
}

/** A number that is recalled and was not read: an editable default. */
export function fromMemory(value: string, confidence: 'high' | 'medium' | 'low'): Figure {
  return { value, verified: false, status: `from memory, ${confidence} confidence` };
}

export function percent(within: Figure): PercentTolerance {
  return { rule: 'percent', within };
}

export function absolute(within: Figure): AbsoluteTolerance {
  return { rule: 'absolute', within };
}

/** "If three values are below 0.5 mg/L, treat as stable": the wording leaves a value of exactly 0.5 mg/L open. */
export function stableBelow(below: Figure): Branch {
  return { below, atThreshold: 'unsaid', tolerance: { rule: 'low-value' } };
}

/** A number that a document asks for and does not give: ours, an editable default. */
export function commonPractice(value: string, source: string): Figure {
  return { value, verified: false, status: 'common practice, no source', source };
}

export function atMost(limit: Figure): AtMost {
  return { rule: 'at-most', limit };
}
