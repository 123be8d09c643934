import type { Publication } from './publications.ts';

/** A number of a rule, with what it is of. */
export interface RuleFigure {
  readonly of: string;
  readonly value: string;
  readonly unit: string;
}

/** A rule in a sentence, with the numbers in it for who counts with them. */
export interface WrittenRule extends Publication {
  /** Plain words of our own; flags and plans cite it. */
  readonly id: string;
  readonly wording: string;
  readonly figures?: readonly RuleFigure[];
}

export function figure(of: string, value: string, unit: string): RuleFigure {
  return { of, value, unit };
}

/** The number of a rule by what it is of; undefined where the rule has none of that name. */
export function figureOf(rule: WrittenRule, of: string): string | undefined {
  return rule.figures?.find((one) => one.of === of)?.value;
}
