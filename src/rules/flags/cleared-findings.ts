import type { VisitBundle } from '../visit-bundle.ts';
import type { AssessmentLike } from './assessment-like.ts';
import { shownText } from './evidence.ts';
import { findingKey, findingsOf, type RuleFinding, withoutYielding } from './findings.ts';
import { type FormerValue, formerValues, withFormerValues } from './former-values.ts';
import type { Evidence } from './raised-flag.ts';

type Assess = (formerly: VisitBundle) => ReadonlyMap<string, AssessmentLike>;

/** The former value is itself evidence, also where the rule looked at it only in passing (the method, say). */
function withFormerEvidence({ rule, finding }: RuleFinding, { record, field, value }: FormerValue): RuleFinding {
  const known = finding.evidence.some((piece) => piece.record === record && piece.field === field);
  const own: readonly Evidence[] = known ? [] : [{ record, field, shows: shownText(value) }];
  return { rule, finding: { ...finding, evidence: [...finding.evidence, ...own] } };
}

/** One finding for each identity: the sentence of the first that has it, the evidence of all. */
function merged(findings: readonly RuleFinding[]): readonly RuleFinding[] {
  const byKey = new Map<string, RuleFinding>();
  for (const found of findings) {
    const first = byKey.get(findingKey(found)) ?? { ...found, finding: { ...found.finding, evidence: [] } };
    const evidence = [...first.finding.evidence, ...found.finding.evidence];
    byKey.set(findingKey(found), { rule: first.rule, finding: { ...first.finding, evidence } });
  }
  return [...byKey.values()];
}

function inOneOrder(values: readonly FormerValue[]): readonly FormerValue[] {
  const key = (one: FormerValue) => `${one.record} ${one.field} ${shownText(one.value)}`;
  return values.toSorted((a, b) => (key(a) < key(b) ? -1 : 1));
}

/**
 * What only superseded values would raise: the visit as it was first recorded, and each former value by itself with
 * all else as it is now. What stands raised, or yields to what stands raised, is not listed again.
 */
export function clearedFindings(
  bundle: VisitBundle,
  raised: readonly RuleFinding[],
  assess: Assess,
): readonly RuleFinding[] {
  const former = formerValues(bundle.superseded);
  if (former.length === 0) return [];
  const findingsWith = (values: readonly FormerValue[]) => {
    const formerly = withFormerValues(bundle, values);
    return findingsOf({ bundle: formerly, assessments: assess(formerly) });
  };
  const standing = new Set(raised.map(findingKey));
  const found = [
    ...findingsWith(former),
    ...inOneOrder(former).flatMap((one) => findingsWith([one]).map((finding) => withFormerEvidence(finding, one))),
  ].filter((one) => !standing.has(findingKey(one)));
  return withoutYielding(merged(found), raised);
}
