import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import type { CoolerFacts, Packed } from '../cooler-facts.ts';
import { aboutCooler, type CustodyRule, labelEvidence, labelsText } from '../custody-rule.ts';
import { isToCome } from '../receipt-judged.ts';

const { beforeRelease } = CUSTODY_RULES;

/** A temperature blank has no water that anybody fills at a well. */
function notFilled({ packed }: CoolerFacts): readonly Packed[] {
  return packed.filter((one) => {
    if (!isToCome(one)) return true;
    if (one.isTemperatureBlank || one.isTripBlank || one.of?.kind === 'blank') return false;
    return one.container.fields.standing !== 'filled' || one.fill === null;
  });
}

/** What is said of these bottles, of one and of several; nothing of none. */
function said(its: readonly Packed[], one: string, several: string): string[] {
  return its.length === 0 ? [] : [`${labelsText(its)} ${its.length === 1 ? one : several}`];
}

/** Each by what is on record of it: one that was filled is not said to have no fill. */
function sentences(its: readonly Packed[]): readonly string[] {
  const left = its.filter(isToCome);
  return [
    ...said(
      left.filter(({ fill }) => fill === null),
      'went into it, and no fill of it is on record. Record when it was filled, or take it out.',
      'went into it, and no fill of them is on record. Record when they were filled, or take them out.',
    ),
    ...said(
      left.filter(({ fill }) => fill !== null),
      'went into it with a fill on record, and stands as expected still. Say that it is filled.',
      'went into it with a fill on record, and stand as expected still. Say that they are filled.',
    ),
    ...said(
      its.filter((one) => !isToCome(one)),
      'is still shown in it, and was thrown away or left out. Take it out of the cooler, or say that it is filled.',
      'are still shown in it, and were thrown away or left out. Take them out of the cooler, or say that they are filled.',
    ),
  ];
}

export const packedNotFilled: CustodyRule = {
  code: 'packed-not-filled',
  title: 'A container was packed that is not filled by its records',
  severity: 'question',
  addressee: 'tonight',
  source: beforeRelease.source,
  verified: beforeRelease.verified,
  isStored: true,
  find(facts) {
    const its = notFilled(facts);
    if (facts.cooler.fields.packed == null || its.length === 0) return [];
    return aboutCooler(facts, sentences(its).join(' '), labelEvidence(its));
  },
  vectors: [
    {
      name: 'expected only',
      given: { cooler: { packed: '17:00' }, bottles: { a: {}, b: { collected: null } } },
      expect: 'b went into it, and no fill of it',
    },
    {
      name: 'discarded',
      given: { cooler: { packed: '17:00' }, bottles: { a: { more: { standing: 'discarded' } } } },
      expect: 'a is still shown in it, and was thrown away or left out',
    },
    {
      name: 'filled by a fill alone',
      given: { cooler: { packed: '17:00' }, bottles: { a: { more: { standing: 'expected' } } } },
      expect: 'a went into it with a fill on record, and stands as expected still',
    },
    {
      name: 'a trip blank, filled by the laboratory',
      given: { cooler: { packed: '17:00' }, bottles: { t: { blank: 'trip', collected: null } } },
      expect: null,
    },
    { name: 'filled', given: { cooler: { packed: '17:00' }, bottles: { a: {} } }, expect: null },
    { name: 'still being packed', given: { bottles: { b: { collected: null } } }, expect: null },
  ],
};
