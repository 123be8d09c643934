import { canonicalEvidence, cutText, shownText } from '../flags/evidence.ts';
import type { RaisedFlag } from '../flags/raised-flag.ts';
import type { KitCheck } from './kit-records.ts';
import { askedLines, KIT_RULES } from './kit-rules.ts';
import { lastCheck, linesOfCheck } from './kit-standing.ts';

/** The most characters that the sentence of a flag may have. */
const LONGEST_SENTENCE = 1_000;

/** What a check is asked about by itself: how much was found of what was ordered, and what is past its date. */
function flagsOfCheck(check: KitCheck): readonly RaisedFlag[] {
  const kit = { check, lines: linesOfCheck(check) };
  return KIT_RULES.flatMap((rule): RaisedFlag[] => {
    const its = rule.isStored ? askedLines(rule, kit) : [];
    if (its.length === 0) return [];
    const sentence = cutText(rule.sentence(its), LONGEST_SENTENCE);
    const evidence = its.map(({ item, found, expected, expires }) => {
      return { record: check.id, field: 'items', shows: shownText({ item, found, expected, expires }) };
    });
    const { code, severity, addressee } = rule;
    const about = { subjectKind: 'kit-check', subject: check.id };
    return [
      {
        rule: code,
        ...about,
        severity,
        addressee,
        sentence,
        evidence: canonicalEvidence(evidence),
        standing: 'raised',
      },
    ];
  });
}

/**
 * What is to be asked about the kits of an event, from the checks that stand: of each crew and day the last one counts,
 * since a crew that went through its kit again has mended what it found before.
 */
export function kitFlags(checks: readonly KitCheck[]): readonly RaisedFlag[] {
  const mornings = new Map(
    checks.map((check) => {
      const { crew, observed } = check.fields;
      const day = observed.at.slice(0, 10);
      return [`${crew} ${day}`, { crew, day }];
    }),
  );
  return [...mornings.values()].flatMap(({ crew, day }) => {
    const last = lastCheck({ checks: checks.filter(({ fields }) => fields.crew === crew), day });
    return last === null ? [] : flagsOfCheck(last);
  });
}
