import { timeText } from '../clocks.ts';
import type { CoolerFacts } from '../cooler-facts.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';
import { isAtOnce, type OtherCooler, plainNumber } from '../other-coolers.ts';

function twins({ cooler, receipts, others }: CoolerFacts): readonly OtherCooler[] {
  const { number, packed = null } = cooler.fields;
  const own = { from: packed, until: receipts[0]?.fields.received ?? null };
  return others.filter(
    (one) =>
      plainNumber(one.cooler.fields.number) === plainNumber(number) &&
      isAtOnce(own, { from: one.cooler.fields.packed ?? null, until: one.received }),
  );
}

export const coolerNumberTwice: CustodyRule = {
  code: 'cooler-number-twice',
  title: 'Two coolers of an event have one number at once',
  severity: 'question',
  addressee: 'office',
  source: 'Arithmetic of the records: what a receipt says of a number is said of one cooler',
  verified: true,
  // others may come and go without a change of this one
  isStored: false,
  find(facts) {
    const its = twins(facts);
    if (its.length === 0) return [];
    const { number } = facts.cooler.fields;
    const told = its.map(({ cooler: { fields } }) =>
      fields.packed == null ? 'one still being packed' : `one packed ${timeText(fields.packed, facts.timeZone)}`,
    );
    return aboutCooler(
      facts,
      `The number ${number} is that of another cooler of this event too: ${told.join(', ')}. A receipt under it names neither; give each a number of its own.`,
      [facts, ...its].map(({ cooler }) => shows(cooler.id, 'number', cooler.fields.number)),
    );
  },
  vectors: [
    {
      name: 'two on one day',
      given: { cooler: { packed: '16:30' }, others: [{ number: 'c 1', packed: '16:00' }] },
      expect: 'The number C-1 is that of another cooler of this event too: one packed 2026-05-04 16:00.',
    },
    {
      name: 'both being packed',
      given: { others: [{ number: 'C-1' }] },
      expect: 'one still being packed',
    },
    {
      name: 'it came back from the laboratory and was packed again',
      given: { cooler: { packed: '+1 16:30' }, others: [{ number: 'C-1', packed: '06:00', received: '+1 09:00' }] },
      expect: null,
    },
    {
      name: 'the other was packed once this one had come to the laboratory',
      given: { cooler: { packed: '10:00' }, receipt: {}, others: [{ number: 'C-1', packed: '+1 16:30' }] },
      expect: null,
    },
    {
      name: 'the other came back, and this one is still being packed',
      given: { others: [{ number: 'C-1', packed: '06:00', received: '09:00' }] },
      expect: null,
    },
    { name: 'numbers of their own', given: { others: [{ number: 'C-2' }] }, expect: null },
  ],
};
