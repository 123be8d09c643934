import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { equipmentIndex } from '../../../src/rules/equipment/equipment-index.ts';
import type { EquipmentRecords } from '../../../src/rules/equipment/equipment-records.ts';
import { wellEntries } from '../../../src/rules/equipment/faults/well-entry.ts';
import { unitState, unitStates } from '../../../src/rules/equipment/unit-state.ts';
import { Day, ENDED_IS_CLEAN } from './equipment-day.ts';
import { type Deed, inOneMinute, inOneSecond, inOwnMinutes, recordsOf } from './one-minute.ts';

const WELLS = ['MW-1', 'MW-2', 'MW-3'];

function indexOf(records: EquipmentRecords) {
  const day = new Day();
  for (const well of WELLS) day.well(well);
  day.unit('P-1');
  for (const part of ['T-1', 'T-2']) day.part(part);
  return equipmentIndex({ ...day.lists, ...records }, ENDED_IS_CLEAN);
}

/** How the pump stands in the end, in what state it came into each well, and which parts are on it. */
function toldOf(records: EquipmentRecords) {
  const index = indexOf(records);
  return {
    state: unitState(index, 'P-1')?.state,
    entries: wellEntries(index).map(({ contact, cause, found }) => [contact.well, found.state, cause]),
    on: (index.staysOfUnit.get('P-1') ?? []).filter(({ until }) => until === null).map(({ part }) => part),
  };
}

const setUp = (well: string): Deed => ({ does: 'set-up', well });
const leave: Deed = { does: 'leave' };
const begin: Deed = { does: 'begin-decon' };
const end: Deed = { does: 'end-decon', isComplete: true };

/** Only what can be: nobody sets up in a second well before leaving the first, and a decon ends after it began. */
const tour = fc
  .array(
    fc.oneof(
      fc.constantFrom(...WELLS).map((well): readonly Deed[] => [setUp(well), leave]),
      fc.constantFrom<readonly Deed[]>([begin, end], [begin, { ...end, isComplete: false }], [begin]),
    ),
    { maxLength: 12 },
  )
  .chain((all) => fc.nat(1).map((open): readonly Deed[] => all.flat().slice(0, all.flat().length - open)));

const bench = fc.array(
  fc.record({ does: fc.constantFrom('install' as const, 'discard' as const), part: fc.constantFrom('T-1', 'T-2') }),
  { maxLength: 8 },
);

describe('[D12] within one minute', () => {
  it('a decon between two wells is between them, by the sequence of the phone', () => {
    const deeds = [begin, end, setUp('MW-1'), leave, begin, end, setUp('MW-2')];
    for (const when of [inOneMinute, inOneSecond]) {
      expect(toldOf(recordsOf(deeds, when))).toMatchObject({
        state: 'in-a-well',
        entries: [
          ['MW-1', 'clean', null],
          ['MW-2', 'clean', null],
        ],
      });
    }
  });

  it('a decon after a second well is not before it', () => {
    const deeds = [begin, end, setUp('MW-1'), leave, setUp('MW-2'), leave, begin, end];
    for (const when of [inOneMinute, inOneSecond]) {
      const { state, entries } = toldOf(recordsOf(deeds, when));
      expect([state, entries[1]]).toEqual(['clean', ['MW-2', 'used', 'used-elsewhere']]);
    }
  });

  it('a correction by the office leaves a record where the phone captured it', () => {
    const records = recordsOf([begin, end, setUp('MW-1')], inOneMinute);
    for (const one of records.setUps ?? []) Object.assign(one, { rev: 2, client: 'office' });
    expect(toldOf(records).entries).toEqual([['MW-1', 'clean', null]]);
  });

  it('what was read from paper, or by another phone, goes by what can follow on what, as ever', () => {
    const deeds = [begin, end, setUp('MW-1')];
    const foreign = recordsOf(deeds, inOneMinute);
    for (const one of foreign.setUps ?? []) {
      Object.assign(one, { client: 'phone-2', clock: { ...one.clock, boot: 'boot-2' } });
    }
    const written = recordsOf(deeds, inOneMinute);
    for (const one of written.setUps ?? []) Object.assign(one.fields.observed, { captured: 'from-paper' });
    for (const records of [foreign, written]) {
      expect(toldOf(records).entries).toEqual([['MW-1', 'unknown', 'not-known-clean']]);
    }
  });

  it('another boot of the phone has a sequence of its own', () => {
    const records = recordsOf([begin, end, setUp('MW-1')], inOneMinute);
    for (const one of records.setUps ?? []) Object.assign(one, { clock: { ...one.clock, boot: 'boot-2' } });
    expect(toldOf(records).entries).toEqual([['MW-1', 'unknown', 'not-known-clean']]);
  });

  it('a time that was typed, and not taken from the clock, is known to the minute only', () => {
    const records = recordsOf([begin, end, setUp('MW-1')], inOneMinute);
    for (const one of records.setUps ?? [])
      Object.assign(one, { clock: { ...one.clock, wall: '2026-05-04T08:09:00-05:00' } });
    expect(toldOf(records).entries).toEqual([['MW-1', 'unknown', 'not-known-clean']]);
  });

  it('tells the same of what one phone recorded as if every deed had a minute of its own', () => {
    fc.assert(
      fc.property(tour, (deeds) => {
        expect(toldOf(recordsOf(deeds, inOneMinute))).toEqual(toldOf(recordsOf(deeds, inOwnMinutes)));
      }),
      { numRuns: 300 },
    );
  });

  it('a part is on or off by what was done to it last', () => {
    expect(
      toldOf(
        recordsOf(
          [
            { does: 'install', part: 'T-1' },
            { does: 'discard', part: 'T-1' },
          ],
          inOneSecond,
        ),
      ).on,
    ).toEqual([]);
    fc.assert(
      fc.property(bench, fc.constantFrom(inOneMinute, inOneSecond), (deeds, when) => {
        expect(toldOf(recordsOf(deeds, when))).toEqual(toldOf(recordsOf(deeds, inOwnMinutes)));
      }),
    );
  });

  it('a part that was down a well gives way to a new one of its kind, and was on it at that well', () => {
    const deeds: readonly Deed[] = [
      { does: 'install', part: 'T-1' },
      setUp('MW-1'),
      leave,
      begin,
      end,
      { does: 'install', part: 'T-2' },
      setUp('MW-2'),
    ];
    for (const when of [inOwnMinutes, inOneMinute, inOneSecond]) {
      const index = indexOf(recordsOf(deeds, when));
      const at = (index.lines.get('P-1')?.wet ?? []).map((contact) => [
        contact.well,
        ...(index.staysDuring.get(contact) ?? []).map(({ part }) => part),
      ]);
      expect(at).toEqual([
        ['MW-1', 'T-1'],
        ['MW-2', 'T-2'],
      ]);
    }
  });

  it('is the same in any order of arrival, of two phones and an office that corrects', () => {
    const who = fc.array(fc.constantFrom('phone-1', 'phone-2', 'office'), { minLength: 40, maxLength: 40 });
    fc.assert(
      fc.property(tour, who, fc.integer({ min: 1, max: 1e6 }), (deeds, clients, seed) => {
        const records = recordsOf(deeds, inOneMinute);
        let count = 0;
        for (const one of Object.values(records).flat()) {
          const client = clients[count++ % clients.length];
          Object.assign(one, { client, ...(client === 'office' ? { rev: 3 } : {}) });
        }
        const mixed = Object.fromEntries(
          Object.entries(records).map(([name, list]) => [
            name,
            list.toSorted(
              (a: { id: string }, b: { id: string }) =>
                Math.sin(seed * +a.id.slice(-3)) - Math.sin(seed * +b.id.slice(-3)),
            ),
          ]),
        ) as unknown as EquipmentRecords;
        expect(toldOf(mixed)).toEqual(toldOf(records));
        expect(unitStates(indexOf(mixed), 'P-1')).toEqual(unitStates(indexOf(records), 'P-1'));
      }),
      { numRuns: 300 },
    );
  });
});
