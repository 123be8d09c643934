import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import type { CoolerFacts, Packed } from '../cooler-facts.ts';
import { aboutCooler, type CustodyRule, labelsText, shows } from '../custody-rule.ts';
import { isToCome } from '../receipt-judged.ts';

const { beforeRelease } = CUSTODY_RULES;

/** What is in the cooler and belongs to another event than it: on the lists of neither it stands as sent in here. */
export function ofAnotherEvent({ cooler, packed }: CoolerFacts): readonly Packed[] {
  return packed.filter((one) => one.container.fields.event !== cooler.fields.event && isToCome(one));
}

export const containerOfAnotherEvent: CustodyRule = {
  code: 'container-of-another-event',
  title: 'A container is in a cooler of another event',
  severity: 'question',
  addressee: 'now',
  source: beforeRelease.source,
  verified: beforeRelease.verified,
  isStored: true,
  find(facts) {
    const its = ofAnotherEvent(facts);
    if (its.length === 0) return [];
    const [is, it] = its.length === 1 ? ['is', 'it'] : ['are', 'them'];
    return aboutCooler(
      facts,
      `${labelsText(its)} ${is} of another event than this cooler: the laboratory does not expect ${it} in here, and the list of ${its.length === 1 ? 'its' : 'their'} own event shows no cooler for ${it}. Pack ${it} in a cooler of ${its.length === 1 ? 'its' : 'their'} own event, or correct which cooler was meant.`,
      its.map(({ container }) => shows(container.id, 'event', container.fields.label)),
    );
  },
  vectors: [
    {
      name: 'one of another event, while it is still being packed',
      given: { bottles: { a: {}, b: { more: { event: 'another event' } } } },
      expect: 'b is of another event than this cooler',
    },
    {
      name: 'thrown away since',
      given: { bottles: { a: {}, b: { more: { event: 'another event', standing: 'discarded' } } } },
      expect: null,
    },
    {
      name: 'left out since',
      given: { bottles: { a: {}, b: { more: { event: 'another event', standing: 'dropped' } } } },
      expect: null,
    },
    { name: 'all of its own event', given: { cooler: { packed: '17:00' }, bottles: { a: {} } }, expect: null },
  ],
};
