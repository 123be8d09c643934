import type { VisitBundle } from '../visit-bundle.ts';
import type { AssessmentLike } from './assessment-like.ts';
import { clearedFindings } from './cleared-findings.ts';
import { canonicalEvidence, cutText } from './evidence.ts';
import { findingsOf, findingsWithVoided, type RuleFinding } from './findings.ts';
import { liveBundle } from './live-bundle.ts';
import type { Addressee, RaisedFlag } from './raised-flag.ts';

/** The most characters that the sentence of a flag may have. */
const LONGEST_SENTENCE = 1_000;
const EDITED = ' Cleared because the value was edited.';

/** What the crew could mend at the well it can no longer mend there once it has left. */
function addresseeOf({ rule }: RuleFinding, { visit }: VisitBundle): Addressee {
  return rule.addressee === 'now' && visit.fields.left !== undefined ? 'tonight' : rule.addressee;
}

function flagOf(found: RuleFinding, bundle: VisitBundle, standing: RaisedFlag['standing']): RaisedFlag {
  const { rule, finding } = found;
  const tail = standing === 'cleared' ? EDITED : '';
  return {
    rule: rule.code,
    subjectKind: finding.subjectKind,
    subject: finding.subject,
    severity: rule.severity,
    addressee: addresseeOf(found, bundle),
    sentence: cutText(finding.sentence, LONGEST_SENTENCE - tail.length) + tail,
    evidence: canonicalEvidence(finding.evidence),
    standing,
  };
}

function compareFlags(a: RaisedFlag, b: RaisedFlag): number {
  if (a.rule !== b.rule) return a.rule < b.rule ? -1 : 1;
  return a.subject < b.subject ? -1 : 1;
}

/**
 * The flags of a visit, by rule and subject. A value that was corrected no longer raises its flag; the flag stays
 * listed as cleared, so that editing a value away is seen. `assess` gives the assessments of a visit as it stood with
 * a former value; without it those of the visit as it is now are taken.
 */
export function visitFlags(
  bundle: VisitBundle,
  assessments: ReadonlyMap<string, AssessmentLike>,
  assess?: (formerly: VisitBundle) => ReadonlyMap<string, AssessmentLike>,
): readonly RaisedFlag[] {
  const always = findingsWithVoided({ bundle, assessments }).map((found) => flagOf(found, bundle, 'raised'));
  if (bundle.visit.voided !== null) return always.toSorted(compareFlags);
  const live = liveBundle(bundle);
  const raised = findingsOf({ bundle: live, assessments });
  const cleared = clearedFindings(live, raised, assess ?? (() => assessments));
  return [
    ...always,
    ...raised.map((found) => flagOf(found, live, 'raised')),
    ...cleared.map((found) => flagOf(found, live, 'cleared')),
  ].toSorted(compareFlags);
}
