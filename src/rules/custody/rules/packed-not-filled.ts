import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import type { CoolerFacts, Packed } from '../cooler-facts.ts';
import { aboutCooler, type CustodyRule, labelEvidence, labelsText } from '../custody-rule.ts';

const { beforeRelease } = CUSTODY_RULES;

/** A temperature blank has no water that anybody fills at a well. */
function notFilled({ packed }: CoolerFacts): readonly Packed[] {
  return packed.filter(({ container, fill, isTemperatureBlank, isTripBlank, of }) => {
    if (isTemperatureBlank || isTripBlank || of?.kind === 'blank')
      return container.fields.standing !== 'filled' && container.fields.standing !== 'expected';
    return container.fields.standing !== 'filled' || fill === null;
  });
}

export const packedNotFilled: CustodyRule = {
  code: 'packed-not-filled',
  title: 'A container was packed of which no fill is on record',
  severity: 'question',
  addressee: 'tonight',
  source: beforeRelease.source,
  verified: beforeRelease.verified,
  isStored: true,
  find(facts) {
    const its = notFilled(facts);
    if (facts.cooler.fields.packed == null || its.length === 0) return [];
    return aboutCooler(
      facts,
      `${labelsText(its)} went into it, and no fill of ${its.length === 1 ? 'it' : 'them'} is on record. Record when ${its.length === 1 ? 'it was' : 'they were'} filled, or take ${its.length === 1 ? 'it' : 'them'} out.`,
      labelEvidence(its),
    );
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
      expect: 'a went into it',
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
