import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import type { SealRecord } from '../../samples/sample-records.ts';
import { timeText } from '../clocks.ts';
import type { CoolerFacts } from '../cooler-facts.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';
import { isAtOnce, type OtherCooler, plainNumber } from '../other-coolers.ts';

const { tapeAcrossOpenings } = CUSTODY_RULES;

interface Twin {
  readonly own: SealRecord;
  readonly seal: SealRecord;
  readonly on: OtherCooler;
}

function twins({ seals, receipts, others }: CoolerFacts): readonly Twin[] {
  const span = ({ fields }: SealRecord, received: string | null) => {
    return { from: fields.applied, until: fields.broken ?? received };
  };
  const received = receipts[0]?.fields.received ?? null;
  return seals.flatMap((own) =>
    others.flatMap((on) =>
      on.seals
        .filter((seal) => plainNumber(seal.fields.number) === plainNumber(own.fields.number))
        .filter((seal) => isAtOnce(span(own, received), span(seal, on.received)))
        .map((seal) => ({ own, seal, on })),
    ),
  );
}

export const sealNumberTwice: CustodyRule = {
  code: 'seal-number-twice',
  title: 'A seal of one number is on two coolers at once',
  severity: 'question',
  addressee: 'office',
  source: `${tapeAcrossOpenings.source}: a seal must break to open, so that one is on one cooler`,
  verified: tapeAcrossOpenings.verified,
  // others may come and go without a change of this one
  isStored: false,
  find(facts) {
    const its = twins(facts);
    if (its.length === 0) return [];
    const told = its.map(({ own, seal, on }) => {
      const by = seal.fields.appliedBy == null ? '' : ` by ${seal.fields.appliedBy}`;
      const there = `on cooler ${on.cooler.fields.number}${by} ${timeText(seal.fields.applied, facts.timeZone)}`;
      return `Seal ${own.fields.number} was put on ${timeText(own.fields.applied, facts.timeZone)}, and ${there}.`;
    });
    return aboutCooler(
      facts,
      `${told.join(' ')} One seal is on one cooler: read both again, and correct the number that is wrong.`,
      its.flatMap(({ own, seal }) => [own, seal].map(({ id, fields }) => shows(id, 'number', fields.number))),
    );
  },
  vectors: [
    {
      name: 'on two at once',
      given: { seals: [['0042', '16:40']], others: [{ number: 'C-2', seals: [['00-42', '16:50']] }] },
      expect: 'Seal 0042 was put on 2026-05-04 16:40, and on cooler C-2 2026-05-04 16:50.',
    },
    {
      name: 'broken before the other was put on',
      given: { seals: [['0042', '16:40']], others: [{ number: 'C-2', seals: [['0042', '10:00', '12:00']] }] },
      expect: null,
    },
    {
      name: 'opened at the laboratory before the other was put on',
      given: {
        seals: [['0042', '+1 16:40']],
        others: [{ number: 'C-2', received: '+1 09:00', seals: [['0042', '10:00']] }],
      },
      expect: null,
    },
    {
      name: 'put on the other once this one was opened at the laboratory',
      given: { seals: [['0042', '10:00']], receipt: {}, others: [{ number: 'C-2', seals: [['0042', '+1 16:40']] }] },
      expect: null,
    },
    {
      name: 'numbers of their own',
      given: { seals: [['0042', '16:40']], others: [{ number: 'C-2', seals: [['0043', '16:50']] }] },
      expect: null,
    },
  ],
};
