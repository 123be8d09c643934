import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { MustLeaveTold } from '../../../src/rules/shipping/must-leave-told.ts';
import { mustLeaveTold } from '../../../src/rules/shipping/must-leave-told.ts';
import { packingTold } from '../../../src/rules/shipping/packing-told.ts';
import { instantOfWall } from '../../science/samples/intl-oracle.ts';
import { idOf, SamplesWorld } from '../samples/samples-world.ts';

/** Friday, 8 May 2026. */
const FRIDAY = '2026-05-08T15:30:00-05:00';
const MONDAY_9 = '2026-05-11T14:00:00Z';

function world(laboratory: object = {}, sampling: Readonly<Record<string, unknown>> = {}): SamplesWorld {
  return new SamplesWorld('America/Chicago', sampling)
    .laboratory('lab-1', { ...laboratory })
    .add('cooler', 'c-1', { event: 'event-1', number: 'C1', laboratory: 'lab-1' });
}

const nitrate = (of: SamplesWorld) => of.bottle('N-1', 'nitrate', { cooler: 'c-1' }).fill('N-1', FRIDAY);
const told = (of: SamplesWorld, more: object = {}): MustLeaveTold =>
  mustLeaveTold(of.samples(), { now: FRIDAY, ...more });

describe('what must leave today', () => {
  it('says it of nitrate taken Friday 15:30: the next receipt is Monday 09:00, which is 65.5 h, and 48 h are allowed', () => {
    const answer = told(nitrate(world()));
    const [shipment] = answer.shipments;
    expect(answer).toMatchObject({
      mustLeave: 0,
      tooLate: 1,
      transitHours: '24',
      transitSource: 'common practice, no source',
    });
    expect(shipment).toMatchObject({ number: 'C1', receivedAt: MONDAY_9, handInBy: null, tooLate: 1 });
    expect(shipment?.clocks[0]).toMatchObject({ hoursAtReceipt: '65.5', standing: 'too-late', written: '48 h' });
    expect(shipment?.clocks[0]?.sentence).toBe(
      'Nitrate in N-1: the next receipt is 2026-05-11 09:00 -05:00, 65.5 h after it was collected; its limit to analysis is 48 h. It must be received by 2026-05-08 17:00 -05:00, 1.5 h from now: drive it there, or book a receipt.',
    );
  });

  it('says of what was filled in the future, as recorded, that its limits end earlier', () => {
    const future = world().bottle('N-1', 'nitrate', { cooler: 'c-1' }).fill('N-1', '2027-10-14T10:00:00-05:00');
    expect(told(future)).toMatchObject({ mustLeave: 0, tooLate: 0 });
    expect(told(future).cautions).toEqual([
      'N-1: It was collected at 2027-10-14 10:00 -05:00, as recorded, which is still to come: it is 2026-05-08 15:30 -05:00. Its limits end earlier than told here; correct the time.',
    ]);
    const says = packingTold(future.samples(), idOf('c-1'), { now: FRIDAY })?.says ?? [];
    expect(says.filter(({ code }) => code === 'collection-time-doubtful')).toHaveLength(1);
    expect(told(nitrate(world())).cautions).toEqual([]);
  });

  it('tells by when it has to be handed in, where the way is short enough', () => {
    const answer = told(nitrate(world()), { transitHours: '1' });
    const [shipment] = answer.shipments;
    expect(answer).toMatchObject({ mustLeave: 1, tooLate: 0, transitSource: 'as asked' });
    expect(shipment).toMatchObject({ handInBy: '2026-05-08T21:00:00Z', receivedAt: '2026-05-08T21:30:00Z' });
    expect(shipment?.clocks[0]?.sentence).toContain('must leave by 2026-05-08 16:00 -05:00');
    expect(shipment?.sentence).toContain('hand it in by 2026-05-08 16:00 -05:00, or 1 of its containers miss');
  });

  it('counts the backlog of the laboratory, days that it is closed and days that were booked', () => {
    const backlog = told(nitrate(world({ handlingHours: '40' })), { transitHours: '0.25' });
    // due Sunday 15:30, 40 h before that is Friday 23:30, when nobody is there: Friday 17:00, less the way
    expect(backlog.shipments[0]?.handInBy).toBe('2026-05-08T21:45:00Z');
    const booked = { alsoOpen: [{ date: '2026-05-09', from: '08:00', until: '12:00' }] };
    // Saturday 12:00 less 24 h has passed at 15:30; with 16 h it may leave by 20:00
    expect(told(nitrate(world(booked))).tooLate).toBe(1);
    expect(told(nitrate(world(booked)), { transitHours: '16' }).shipments[0]).toMatchObject({
      handInBy: '2026-05-09T01:00:00Z',
      receivedAt: '2026-05-09T13:00:00Z',
    });
    const closed = told(nitrate(world({ closedOn: ['2026-05-08', '2026-05-11'] })), { transitHours: '1' });
    expect(closed.shipments[0]).toMatchObject({ receivedAt: '2026-05-12T14:00:00Z', tooLate: 1 });
    expect(closed.shipments[0]?.clocks[0]?.sentence).toContain('book a receipt with it, or plan to sample again');
  });

  it('lets wait what can wait, and asks the plan for the transit', () => {
    const metals = world({}, { transitHours: '20' }).bottle('M-1', 'metals-total', { cooler: 'c-1' });
    const answer = told(metals.fill('M-1', FRIDAY, { preserved: true }));
    expect(answer).toMatchObject({
      mustLeave: 0,
      tooLate: 0,
      transitHours: '20',
      transitSource: 'the plan of the event',
    });
    expect(answer.shipments[0]).toMatchObject({ containers: 1, clocks: [], handInBy: null });
  });

  it('looks at the clock to extraction, which ends earlier than that to analysis would', () => {
    // seven days from Friday 15:30: received by Friday 15 May 15:30; asked on Thursday at noon with a day of transit
    const of = world().bottle('S-1', 'semivolatiles', { cooler: 'c-1' }).fill('S-1', FRIDAY);
    const answer = told(of, { at: '2026-05-14T12:00:00-05:00' });
    expect(answer.shipments[0]).toMatchObject({ mustLeave: 1, handInBy: '2026-05-14T20:30:00Z' });
    expect(answer.shipments[0]?.clocks[0]).toMatchObject({ clock: 'collection-to-extraction', written: '7 d' });
  });

  it('says why nothing can be said: no laboratory, or none that says when it receives', () => {
    const nobody = new SamplesWorld().bottle('N-1', 'nitrate').fill('N-1', FRIDAY);
    expect(told(nobody).shipments[0]?.why).toContain('No laboratory is known');
    expect(told(nitrate(world({ receiving: [] }))).shipments[0]?.why).toBe(
      'Nobody said when Example Laboratory receives: give its receiving hours.',
    );
  });

  it('puts together what is in no cooler by where it goes, and leaves out what was received or not filled', () => {
    const of = world()
      .bottle('N-1', 'nitrate', { cooler: 'c-1' })
      .fill('N-1', FRIDAY)
      .bottle('N-2', 'nitrate')
      .fill('N-2', FRIDAY)
      .bottle('N-3', 'nitrate', { standing: 'expected' })
      .bottle('X-1', 'no-such-group')
      .fill('X-1', FRIDAY)
      .add('blank', 'b-1', { event: 'event-1', type: 'temperature', number: 'T', collected: FRIDAY, suites: [] })
      .bottle('T-1', 'temperature', { blank: 'b-1' })
      .fill('T-1', FRIDAY)
      .add('sample-receipt', 'r-1', { event: 'event-1', cooler: 'c-1', received: MONDAY_9 });
    const answer = told(of, { at: '2026-05-11T10:00:00-05:00' });
    expect(answer.shipments.map(({ cooler, laboratory, containers }) => [cooler, laboratory, containers])).toEqual([
      [null, idOf('lab-1'), 3],
    ]);
    expect(answer.withoutClock).toBe(1);
  });

  it('counts from when a cooler was given away, while nobody took it', () => {
    const of = nitrate(world({ receiving: [{ day: 'saturday', from: '09:00', until: '12:00' }] })).add(
      'hand-over',
      'h-1',
      {
        cooler: 'c-1',
        side: 'relinquished',
        at: '2026-05-08T16:00:00-05:00',
        name: 'Ann',
      },
    );
    const answer = told(of, { at: '2026-05-09T08:00:00-05:00', transitHours: '17.5' });
    expect(answer.shipments[0]).toMatchObject({
      leftAt: '2026-05-08T16:00:00-05:00',
      receivedAt: '2026-05-09T14:30:00Z',
      mustLeave: 0,
      tooLate: 0,
    });
    expect(answer.shipments[0]?.sentence).toContain('is under way');
  });

  it.each([
    ['behind', '2026-05-08T14:52:00-05:00', {}],
    ['behind, both of one firm', '2026-05-08T14:52:00-05:00', { organization: 'Example Field Services' }],
    ['right', '2026-05-08T15:01:00-05:00', {}],
  ])('does not take it for gone that a colleague has it, whose clock is %s', (_, takenAt, more) => {
    const hand = { cooler: 'c-1', number: 1, ...more };
    const of = nitrate(world())
      .add('hand-over', 'h-1', { ...hand, side: 'relinquished', at: '2026-05-08T15:00:00-05:00', name: 'Ann' })
      .add('hand-over', 'h-2', { ...hand, side: 'received', at: takenAt, name: 'Ben' });
    const answer = told(of, { transitHours: '1' });
    expect(answer).toMatchObject({ mustLeave: 1, shipments: [{ leftAt: null, handInBy: '2026-05-08T21:00:00Z' }] });
  });

  it('counts from when it was given to another firm, though a driver signed for it', () => {
    const of = nitrate(world())
      .add('hand-over', 'h-1', {
        cooler: 'c-1',
        side: 'relinquished',
        at: '2026-05-08T15:40:00-05:00',
        name: 'Ann',
        organization: 'Example Field Services',
      })
      .add('hand-over', 'h-2', {
        cooler: 'c-1',
        side: 'received',
        at: '2026-05-08T15:35:00-05:00',
        name: 'Di',
        organization: 'Example Couriers',
      });
    const answer = told(of, { at: '2026-05-08T15:50:00-05:00', transitHours: '1' });
    expect(answer).toMatchObject({ mustLeave: 0, shipments: [{ leftAt: '2026-05-08T15:40:00-05:00' }] });
  });

  it('calls late exactly what would be received after its end, whenever it is asked and however long the way is', () => {
    const minute = fc.integer({ min: 0, max: 6 * 1_440 });
    const wall = (day: number, clock: string) =>
      instantOfWall(`2026-05-${String(day).padStart(2, '0')}T${clock}`, 'America/Chicago');
    const spells = [8, 11, 12, 13, 14, 15, 18].map((day) => [wall(day, '09:00:00'), wall(day, '17:00:00')] as const);
    fc.assert(
      fc.property(minute, fc.integer({ min: 0, max: 60 }), (after, transit) => {
        const atMs = Date.parse(FRIDAY) + after * 60_000;
        const at = new Date(atMs).toISOString();
        const answer = told(nitrate(world()), { at, transitHours: String(transit) });
        const arrives = atMs + transit * 3_600_000;
        const spell = spells.find(([, until]) => until >= arrives);
        const received = Math.max(arrives, spell?.[0] ?? Number.NaN);
        expect(answer.tooLate).toBe(received > Date.parse('2026-05-10T20:30:00Z') ? 1 : 0);
        expect(Date.parse(answer.shipments[0]?.receivedAt ?? '')).toBe(received);
      }),
      { seed: 48, numRuns: 60 },
    );
  });
});
