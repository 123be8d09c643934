import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { equipmentIndex } from '../../../src/rules/equipment/equipment-index.ts';
import type { EquipmentRecords } from '../../../src/rules/equipment/equipment-records.ts';
import { unitStates } from '../../../src/rules/equipment/unit-state.ts';
import { Day, ENDED_IS_CLEAN, voided } from './equipment-day.ts';
import { naiveStateAt } from './naive-states.ts';

const UNITS = ['P-1', 'P-2'];
const SERVICES = ['arrived', 'serviced', 'inspected', 'out-of-service', 'back-in-service', 'returned'] as const;

const deed = fc.oneof(
  fc.record({
    what: fc.constant('visit' as const),
    unit: fc.constantFrom(...UNITS),
    isOpen: fc.boolean(),
    length: fc.nat(6),
  }),
  fc.record({
    what: fc.constant('decon' as const),
    unit: fc.constantFrom(...UNITS),
    isOpen: fc.boolean(),
    length: fc.nat(6),
    bad: fc.boolean(),
  }),
  fc.record({
    what: fc.constant('service' as const),
    unit: fc.constantFrom(...UNITS),
    type: fc.constantFrom(...SERVICES),
  }),
);

interface Slots {
  next(): string;
  after(slots: number): string;
}

/** Every time of a day is another minute: what happens within one minute has its own tests. */
function slotsOf(): Slots {
  let count = 0;
  const taken = new Set<number>();
  const text = (minute: number) =>
    `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
  const free = (from: number) => {
    let minute = from;
    while (taken.has(minute)) minute += 1;
    taken.add(minute);
    return text(minute);
  };
  return {
    next: () => {
      count += 3;
      return free(count);
    },
    after: (slots) => free(count + slots * 5 + 1),
  };
}

const days = fc.array(fc.tuple(deed, fc.nat(9)), { maxLength: 24 }).map((deeds) => {
  const day = new Day();
  const slots = slotsOf();
  for (const unit of UNITS) day.unit(unit);
  for (const well of ['MW-1', 'MW-2', 'MW-3']) day.well(well);
  deeds.forEach(([one, dice], at) => {
    const from = slots.next();
    if (one.what === 'service') day.service(one.unit, one.type, from);
    else {
      const until = one.isOpen ? undefined : slots.after(one.length);
      if (one.what === 'decon') day.decon(one.unit, from, until, one.bad ? { labelText: 'incomplete' } : {});
      else {
        const visit = day.visit(`v${at}`, `MW-${(dice % 3) + 1}`, from, until);
        day.setUp(visit.id, one.unit, from);
        if (dice === 9) voided(visit);
      }
    }
  });
  return day.lists;
});

const index = (records: EquipmentRecords) => equipmentIndex(records, ENDED_IS_CLEAN);
const shuffled = (records: EquipmentRecords, seed: number): EquipmentRecords =>
  Object.fromEntries(
    Object.entries(records).map(([name, list]) => [
      name,
      (list as { id: string }[]).toSorted((a, b) => Math.sin(seed * hash(a.id)) - Math.sin(seed * hash(b.id))),
    ]),
  ) as unknown as EquipmentRecords;
const hash = (text: string) => [...text].reduce((sum, one) => (sum * 31 + one.charCodeAt(0)) % 99_991, 7);

describe('the states of units, over days of any kind', () => {
  it('are the same in any order of arrival', () => {
    fc.assert(
      fc.property(days, fc.integer({ min: 1, max: 1e6 }), (records, seed) => {
        const mixed = shuffled(records, seed);
        for (const unit of UNITS) expect(unitStates(index(mixed), unit)).toEqual(unitStates(index(records), unit));
      }),
      { numRuns: 200 },
    );
  });

  it('are at each moment what their definition says, asked anew', () => {
    fc.assert(
      fc.property(days, (records) => {
        const known = index(records);
        for (const unit of UNITS) {
          const states = unitStates(known, unit);
          for (let minute = 0; minute < 240; minute += 1) {
            const moment = Date.parse('2026-05-04T00:00:00-05:00') + minute * 60_000 + 30_000;
            const found = states.findLast(({ fromMs }) => fromMs <= moment)?.state;
            const wanted = naiveStateAt(records, unit, moment);
            if (found !== wanted) expect({ minute, state: found }).toEqual({ minute, state: wanted });
          }
        }
      }),
      { numRuns: 150 },
    );
  });
});
