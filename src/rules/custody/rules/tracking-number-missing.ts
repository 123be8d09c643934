import { CUSTODY_RULES, PAPER_FIELDS } from '../../../catalog/analytes/custody-rules.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';
import { isNamedIn } from '../same-person.ts';

const shipper = PAPER_FIELDS.find(({ id }) => id === 'shipper');

export const trackingNumberMissing: CustodyRule = {
  code: 'tracking-number-missing',
  title: 'A cooler went with a carrier and has no tracking number',
  severity: 'caution',
  addressee: 'tonight',
  source: shipper?.source ?? CUSTODY_RULES.onePerCooler.source,
  verified: shipper?.verified ?? false,
  isStored: true,
  find(facts) {
    const { carrier, trackingNumber } = facts.cooler.fields;
    if (!carrier || trackingNumber) return [];
    const given = facts.custody.changes.find(
      ({ relinquished }) => relinquished?.to && isNamedIn(carrier, relinquished.to),
    );
    if (!given?.relinquished) return [];
    const { record, at, name } = given.relinquished;
    return aboutCooler(
      facts,
      `${name} relinquished it to ${carrier}, and no tracking number is recorded: the time with the carrier does not count as custody, and nobody can follow it. Add the number.`,
      [shows(record, 'at', at), shows(facts.cooler.id, 'carrier', carrier)],
    );
  },
  vectors: [
    {
      name: 'no number',
      given: {
        cooler: { carrier: 'Example Couriers' },
        hands: [['out', '17:00', 'Ann Poe', { to: 'Example Couriers' }]],
      },
      expect: 'no tracking number is recorded',
    },
    {
      name: 'with a number',
      given: {
        cooler: { carrier: 'Example Couriers', trackingNumber: '7' },
        hands: [['out', '17:00', 'Ann Poe', { to: 'Example Couriers' }]],
      },
      expect: null,
    },
    {
      name: 'not given to the carrier yet',
      given: { cooler: { carrier: 'Example Couriers' }, hands: [['out', '17:00', 'Ann Poe', { to: 'Ben Roe' }]] },
      expect: null,
    },
  ],
};
