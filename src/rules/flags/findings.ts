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

function found(rules: readonly FlagRule[], facts: VisitFacts): readonly RuleFinding[] {
  const { method } = facts.bundle.visit.fields;
  return rules
    .filter((rule) => rule.methods.includes(method))
    .flatMap((rule) => rule.evaluate(facts).map((finding) => ({ rule, finding })));
}

const OF_WHAT_COUNTS = FLAG_RULES.filter((rule) => rule.looksAtVoided !== true);
const OF_EVERYTHING = FLAG_RULES.filter((rule) => rule.looksAtVoided === true);

/** What the rules of the visit's method find in what counts. */
export function findingsOf(facts: VisitFacts): readonly RuleFinding[] {
  const all = found(OF_WHAT_COUNTS, facts);
  return withoutYielding(all, all);
}

/** What those find that look at voided records as well. */
export function findingsWithVoided(facts: VisitFacts): readonly RuleFinding[] {
  return found(OF_EVERYTHING, facts);
}
