import { canonicalEvidence, cutText } from '../../flags/evidence.ts';
import type { Addressee, Finding, RaisedFlag } from '../../flags/raised-flag.ts';
import { type SampleFacts, type SampleRecords, sampleFacts } from './sample-facts.ts';
import type { SampleRule } from './sample-rule.ts';
import { SAMPLE_RULES } from './sample-rules.ts';

/** The most characters that the sentence of a flag may have. */
const LONGEST_SENTENCE = 1_000;

/** What the crew could mend at the well it can no longer mend there once it has left, nor where there is no well. */
function addresseeOf({ addressee }: SampleRule, { visit }: SampleFacts): Addressee {
  const isThere = visit !== null && visit.fields.left === undefined;
  return addressee === 'now' && !isThere ? 'tonight' : addressee;
}

function flagOf(rule: SampleRule, { sentence, evidence, ...about }: Finding, facts: SampleFacts): RaisedFlag {
  return {
    rule: rule.code,
    ...about,
    severity: rule.severity,
    addressee: addresseeOf(rule, facts),
    sentence: cutText(sentence, LONGEST_SENTENCE),
    evidence: canonicalEvidence(evidence),
    standing: 'raised',
  };
}

function applies({ methods }: SampleRule, { visit }: SampleFacts): boolean {
  return methods === null || (visit !== null && methods.includes(visit.fields.method));
}

function compareFlags(a: RaisedFlag, b: RaisedFlag): number {
  const [one, other] = [a, b].map(({ rule, subject }) => `${rule} ${subject}`) as [string, string];
  return one < other ? -1 : one > other ? 1 : 0;
}

/** What is asked about the samples of a visit and their containers, or about containers of no sample; in one order. */
export function sampleFlags(records: SampleRecords): readonly RaisedFlag[] {
  const facts = sampleFacts(records);
  if (facts.visit !== null && facts.visit.voided !== null) return [];
  const asked = SAMPLE_RULES.filter((rule) => applies(rule, facts));
  const flags = asked.flatMap((rule) => rule.evaluate(facts).map((finding) => flagOf(rule, finding, facts)));
  return flags.toSorted(compareFlags);
}
