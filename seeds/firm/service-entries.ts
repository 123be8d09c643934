import type { Entry, IdOf } from './entry.ts';
import { UNITS } from './equipment.ts';
import { ADMIN } from './people.ts';

interface Service {
  readonly type: 'arrived' | 'inspected' | 'serviced' | 'length-checked';
  readonly at: string;
  readonly dueNext?: string;
  readonly remark?: string;
}

const TYPED = '2026-10-12T15:30:00-05:00';

/** From the cards of the store room. */
const CARDS: Readonly<Partial<Record<string, readonly Service[]>>> = {
  'bladder-pump': [{ type: 'serviced', at: '2026-03-09T10:00:00-05:00', dueNext: '2027-03-09' }],
  'water-level-tape': [
    { type: 'length-checked', at: '2026-03-10T09:00:00-05:00', dueNext: '2026-09-10' },
    {
      type: 'length-checked',
      at: '2026-09-08T09:00:00-05:00',
      dueNext: '2027-03-08',
      remark: 'Against the steel tape, at 50 and 100 ft',
    },
  ],
  compressor: [{ type: 'inspected', at: '2026-02-16T14:00:00-06:00', dueNext: '2027-02-16' }],
};

const RENTED: readonly Service[] = [
  { type: 'arrived', at: '2026-10-09T11:20:00-05:00', remark: 'From the rental, with its papers' },
  { type: 'inspected', at: '2026-10-09T13:00:00-05:00', dueNext: '2026-11-09' },
];

/** When each unit was serviced, inspected or measured, and when the same is due again. */
export function serviceEntries(id: IdOf): Entry[] {
  const person = id('member', ADMIN);
  return UNITS.flatMap((unit) => {
    const services = 'ownership' in unit && unit.ownership === 'rented' ? RENTED : (CARDS[unit.type] ?? []);
    return services.map(({ type, at, ...more }) => ({
      kind: 'unit-service',
      id: id('unit-service', `${unit.label} ${type} ${at}`),
      set: {
        unit: id('unit', unit.label),
        type,
        ...(type === 'arrived' ? {} : { result: 'pass' }),
        ...more,
        observed: { at, entered: TYPED, captured: 'from-paper', readBy: person, writtenBy: person },
      },
    }));
  });
}
