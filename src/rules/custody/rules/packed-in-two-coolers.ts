import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';
import type { PackedTwice } from '../packed-twice.ts';

function told({ label, claims }: PackedTwice): string {
  const [shown] = claims;
  const places = claims.map(({ cooler, by }) => {
    const where = cooler === null ? 'in no cooler' : `in cooler ${cooler}`;
    return by === null ? where : `${where} by ${by}`;
  });
  const is = shown?.cooler == null ? 'no record shows it' : `the record of ${shown.cooler} shows it`;
  return `${label} was put ${places.join(' and ')}, who did not know of each other; ${is}.`;
}

export const packedInTwoCoolers: CustodyRule = {
  code: 'packed-in-two-coolers',
  title: 'A container was packed in two coolers at once',
  severity: 'question',
  addressee: 'office',
  source: 'Arithmetic of the records: a container is in one cooler',
  verified: true,
  // the conflict is stored beside the container, and a coordinator decides it there
  isStored: false,
  find(facts, { twice }) {
    if (twice.length === 0) return [];
    return aboutCooler(
      facts,
      `${twice.map(told).join(' ')} Look where ${twice.length === 1 ? 'it is' : 'they are'}, and decide the conflict.`,
      twice.map(({ container, label }) => shows(container, 'cooler', label)),
    );
  },
  vectors: [
    {
      name: 'two crews',
      given: {
        twice: [
          {
            container: 'bottle MW-1-1',
            label: 'MW-1-1',
            claims: [
              { cooler: 'C-2', by: 'Ben Roe' },
              { cooler: 'C-1', by: 'Ann Poe' },
            ],
          },
        ],
      },
      expect:
        'MW-1-1 was put in cooler C-2 by Ben Roe and in cooler C-1 by Ann Poe, who did not know of each other; the record of C-2 shows it.',
    },
    { name: 'nobody else packed it', given: { bottles: { 'MW-1-1': {} } }, expect: null },
  ],
};
