import type { FlagRule, VisitFacts } from './flag-rule.ts';
import { FLAG_RULES } from './flag-rules.ts';
import type { Finding } from './raised-flag.ts';

export interface RuleFinding {
  readonly rule: FlagRule;
  readonly finding: Finding;
}

/** (rule, subject): the identity of a flag. */
export function findingKey({ rule, finding }: RuleFinding): string {
  return `${rule.code} ${finding.subject}`;
}

/** Findings without those whose cause another finding of the visit tells better. */
export function withoutYielding(
  findings: readonly RuleFinding[],
  standing: readonly RuleFinding[],
): readonly RuleFinding[] {
  const codes = new Set(standing.map(({ rule }) => rule.code));
  return findings.filter(({ rule }) => !rule.yieldsTo.some((code) => codes.has(code)));
}

/** What the rules of the visit's method find. */
export function findingsOf(facts: VisitFacts): readonly RuleFinding[] {
  const { method } = facts.bundle.visit.fields;
  const found = FLAG_RULES.filter((rule) => rule.methods.includes(method)).flatMap((rule) =>
    rule.evaluate(facts).map((finding) => ({ rule, finding })),
  );
  return withoutYielding(found, found);
}
