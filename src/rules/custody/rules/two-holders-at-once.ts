import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import { isAfter, timeText } from '../clocks.ts';
import type { CoolerFacts } from '../cooler-facts.ts';
import type { Signer } from '../custody-change.ts';
import { aboutCooler, type CustodyRule, signedEvidence } from '../custody-rule.ts';
import { isSameName } from '../same-person.ts';

/** One gave it on before it came to another, who says that they had it: both had it for a time. */
function overlaps({ custody: { changes } }: CoolerFacts): readonly (readonly [Signer, Signer])[] {
  return changes.flatMap(({ received }, at): (readonly [Signer, Signer])[] => {
    const next = changes[at + 1]?.relinquished;
    if (!received || !next || isSameName(received.name, next.name)) return [];
    return isAfter(received.at, next.at) ? [[received, next]] : [];
  });
}

export const twoHoldersAtOnce: CustodyRule = {
  code: 'two-holders-at-once',
  title: 'Two people are on record as having a cooler at once',
  severity: 'question',
  addressee: 'office',
  source: CUSTODY_RULES.inPairs.source,
  verified: CUSTODY_RULES.inPairs.verified,
  isStored: true,
  find(facts) {
    const its = overlaps(facts);
    if (its.length === 0) return [];
    const told = its.map(([received, next]) => {
      const [taken, given] = [received.at, next.at].map((at) => timeText(at, facts.timeZone));
      return `${received.name} received it ${taken}, when ${next.name} had relinquished it ${given}.`;
    });
    const sides = signedEvidence(its.flat());
    return aboutCooler(
      facts,
      `${told.join(' ')} Ask who had it, and correct the time or the name that is wrong.`,
      sides,
    );
  },
  vectors: [
    {
      name: 'received after another gave it on',
      given: {
        hands: [
          ['out', '10:00', 'Ann Poe', { number: 1 }],
          ['in', '12:00', 'Ben Roe', { number: 1 }],
          ['out', '11:00', 'Dee Voe', { number: 2 }],
          ['in', '11:05', 'Cy Loe', { number: 2 }],
        ],
      },
      expect: 'Ben Roe received it 2026-05-04 12:00, when Dee Voe had relinquished it 2026-05-04 11:00',
    },
    {
      name: 'one after the other',
      given: {
        hands: [
          ['out', '10:00', 'Ann Poe'],
          ['in', '10:05', 'Ben Roe'],
          ['out', '11:00', 'Ben Roe'],
          ['in', '11:05', 'Cy Loe'],
        ],
      },
      expect: null,
    },
  ],
};
