import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import type { ContainerClocks } from '../../../../src/rules/samples/deadlines/container-clocks.ts';
import { toldDeadline } from '../../../../src/rules/samples/deadlines/deadlines-told.ts';
import { clocksAsked, eventClocks } from '../../../../src/rules/samples/deadlines/event-clocks.ts';
import { wallClock } from '../../../science/samples/intl-oracle.ts';
import { idOf, SamplesWorld } from '../samples-world.ts';

const FRIDAY = '2026-05-08T15:30:00-05:00';

function only(world: SamplesWorld): ContainerClocks {
  const [first, ...more] = eventClocks(world.samples());
  expect(more).toEqual([]);
  if (!first) throw new Error('no container has clocks');
  return first;
}

const due = (of: ContainerClocks, clock: string) => of.clocks.find((one) => one.clock === clock)?.dueAt;

describe('the clocks of a container', () => {
  it('count elapsed hours: nitrate of 8 March 2025 14:00 in New York is due 10 March 15:00, as clocks went forward (T2)', () => {
    const world = new SamplesWorld('America/New_York')
      .bottle('N-1', 'nitrate')
      .fill('N-1', '2025-03-08T14:00:00-05:00');
    const of = only(world);
    expect(of.dueAt).toBe('2025-03-10T19:00:00Z');
    expect(wallClock(Date.parse(of.dueAt ?? ''), 'America/New_York')).toBe('2025-03-10T15:00:00');
    const [clock] = toldDeadline(of, '2025-03-10T18:00:00Z', 'America/New_York').clocks;
    expect(clock).toMatchObject({ limitMinutes: 2880, written: '48 h', state: 'running', leftMinutes: 60 });
    expect(clock?.sentence).toBe(
      'Nitrate in N-1: to be analysed by 2025-03-10 15:00 -04:00, 48 h after 2025-03-08 14:00 -05:00 (40 CFR 136.3, Table II, from memory).',
    );
  });

  it('read six months as 180 days: metals of 31 August 2025 are due 27 February 2026 (T4)', () => {
    const world = new SamplesWorld('UTC').bottle('M-1', 'metals-total', { preservatives: ['nitric-acid'] });
    const of = only(world.fill('M-1', '2025-08-31T10:00:00Z', { preserved: true }));
    expect(due(of, 'collection-to-analysis')).toBe('2026-02-27T10:00:00Z');
    expect(of.clocks.map(({ clock, state }) => [clock, state])).toEqual([
      ['collection-to-analysis', 'running'],
      ['collection-to-preservation', 'in-time'],
    ]);
  });

  it('are two where extraction and analysis have a limit each, and the second waits for an extraction that no result tells', () => {
    const of = only(new SamplesWorld().bottle('S-1', 'semivolatiles').fill('S-1', FRIDAY));
    expect(of.clocks.map(({ clock, written, state }) => [clock, written, state])).toEqual([
      ['collection-to-extraction', '7 d', 'running'],
      ['extraction-to-analysis', '40 d', 'not-started'],
    ]);
    expect(of.dueAt).toBe('2026-05-15T20:30:00Z');
    const told = toldDeadline(of, FRIDAY, 'America/Chicago');
    expect(told.clocks[1]?.sentence).toContain('within 40 d of its extraction, which is not recorded');
  });

  it('are shorter where the preservative is known not to be in it, and 15 minutes to put it in', () => {
    const world = new SamplesWorld().bottle('V-1', 'volatiles', { preservatives: ['hydrochloric-acid'] });
    const of = only(world.fill('V-1', FRIDAY, { preserved: false }));
    expect(of.clocks.map(({ clock, written, state, basis }) => [clock, written, state, basis.catalog])).toEqual([
      ['collection-to-analysis', '7 d', 'running', 'volatiles/not-acidified'],
      ['collection-to-preservation', '15 min', 'running', 'preserve-soon'],
    ]);
    // the 15 minutes are told by themselves: they would hide the 7 days
    expect(due(of, 'collection-to-preservation')).toBe('2026-05-08T20:45:00Z');
    expect(of.dueAt).toBe('2026-05-15T20:30:00Z');
  });

  it('say that nobody spoke of the preservative, and take it as prescribed', () => {
    const of = only(new SamplesWorld().bottle('V-1', 'volatiles').fill('V-1', FRIDAY));
    expect(of.preservation).toBe('not-said');
    const [clock] = toldDeadline(of, FRIDAY, 'America/Chicago').clocks;
    expect(clock?.written).toBe('14 d');
    expect(clock?.sentence).toContain('Nobody said whether its preservative is in it');
  });

  it('are of every group that a bottle serves, the tightest first', () => {
    const world = new SamplesWorld().bottle('A-1', 'chloride', { alsoGroups: ['nitrate', 'sulfate', 'no-such-group'] });
    const of = only(world.fill('A-1', FRIDAY));
    expect(of.clocks.map(({ group, written }) => [group.id, written])).toEqual([
      ['chloride', '28 d'],
      ['nitrate', '48 h'],
      ['sulfate', '28 d'],
    ]);
    expect(of.dueAt).toBe('2026-05-10T20:30:00Z');
    expect(of.unknown).toContain('"no-such-group"');
  });

  it('say so where none is known, and where nothing was filled', () => {
    const unknown = only(new SamplesWorld().bottle('X-1', 'dioxins'));
    expect(unknown).toMatchObject({ clocks: [], dueAt: null });
    expect(unknown.unknown).toBe('The catalog has no group of analytes "dioxins": no clock is known of it.');
    const empty = only(new SamplesWorld().bottle('N-1', 'nitrate', { standing: 'expected' }));
    expect(empty.clocks.map(({ state }) => state)).toEqual(['not-started']);
    const dropped = only(
      new SamplesWorld().bottle('N-1', 'nitrate', { standing: 'dropped', droppedBecause: 'dry well' }),
    );
    expect(dropped.unknown).toBe('It was left out: dry well.');
  });

  it('begin with the first of two fills, and with the sample where no fill is recorded', () => {
    const twice = new SamplesWorld()
      .bottle('N-1', 'nitrate')
      .fill('N-1', FRIDAY)
      .fill('N-1', '2026-05-08T15:10:00-05:00');
    expect(only(twice).collectedAt).toBe('2026-05-08T15:10:00-05:00');
    const world = new SamplesWorld()
      .sampled('W-1', ['ions'], FRIDAY)
      .bottle('N-1', 'nitrate', { sample: 'sample-W-1' });
    expect(only(world)).toMatchObject({ collectedAt: FRIDAY, collectedFrom: 'sample' });
    expect(toldDeadline(only(world), FRIDAY, 'UTC').clocks[0]?.sentence).toContain('no fill of N-1 is recorded');
  });
});

describe('the clocks to and from extraction', () => {
  const COLLECTED = '2026-05-04T10:00:00-05:00';
  const TIMES = { 'in time': '2026-05-10T10:00:00-05:00', late: '2026-05-11T12:24:00-05:00' };
  const read = (...results: readonly object[]) => {
    const world = new SamplesWorld()
      .suite('svoc', [{ group: 'semivolatiles' }])
      .sampled('W-1', ['svoc'], COLLECTED)
      .bottle('S-1', 'semivolatiles', { sample: 'sample-W-1', suite: 'svoc' })
      .fill('S-1', COLLECTED);
    const plain = { event: 'event-1', sample: 'sample-W-1', unit: 'ug/L', condition: 'not-detected' };
    results.forEach((more, at) => {
      world.add('laboratory-result', `r-${at}`, { ...plain, analyte: `Phenol ${at}`, ...more });
    });
    const of = only(world);
    return { of, states: Object.fromEntries(of.clocks.map(({ clock, state }) => [clock, state])) };
  };

  it('end with what the results say, and each is judged by itself', () => {
    const late = read({ extracted: TIMES.late, analyzed: '2026-06-01T10:00:00-05:00' });
    expect(late.states).toEqual({ 'collection-to-extraction': 'late', 'extraction-to-analysis': 'in-time' });
    expect(late.of.dueAt).toBe(null);
    const [, second] = toldDeadline(late.of, COLLECTED, 'America/Chicago').clocks;
    expect(second?.sentence).toContain('done 2026-06-01 10:00 -05:00, in time');
    const begun = read({ extracted: TIMES['in time'] });
    expect(begun.states).toEqual({ 'collection-to-extraction': 'in-time', 'extraction-to-analysis': 'running' });
    // 40 d from 10 May
    expect(begun.of.dueAt).toBe('2026-06-19T15:00:00Z');
  });

  it('are late where one analyte is late, also where the last extraction and the last analysis are not 40 days apart', () => {
    const [first, analysed] = ['2026-05-05T10:00:00-05:00', '2026-06-18T10:00:00-05:00'];
    const results = [
      { extracted: first, analyzed: analysed },
      { extracted: TIMES['in time'], analyzed: analysed },
      { analyzed: analysed },
    ];
    for (const given of [results, results.toReversed()]) {
      const { states, of } = read(...given);
      expect(states).toEqual({ 'collection-to-extraction': 'in-time', 'extraction-to-analysis': 'late' });
      expect(of.clocks.find(({ clock }) => clock === 'collection-to-extraction')?.endedAt).toBe(TIMES['in time']);
    }
    expect(read({ extracted: TIMES.late }, { extracted: first }).states['collection-to-extraction']).toBe('late');
  });

  it('run on where no result says when it was extracted', () => {
    expect(read({ analyzed: '2026-06-18T10:00:00-05:00' }).states).toEqual({
      'collection-to-extraction': 'running',
      'extraction-to-analysis': 'not-started',
    });
  });
});

describe('what the project asks for', () => {
  const suite = (more: object) =>
    only(
      new SamplesWorld()
        .suite('ions', [{ group: 'nitrate', ...more }])
        .bottle('N-1', 'nitrate', { suite: 'ions' })
        .fill('N-1', FRIDAY),
    );

  it('takes the place of the document, with its reason and who approved it', () => {
    const of = suite({ holdingHours: '36.5', reason: 'short list', approvedBy: 'R. Lead' });
    expect(of.dueAt).toBe('2026-05-10T09:00:00Z');
    expect(of.clocks[0]).toMatchObject({
      limitMinutes: 2190,
      basis: { layer: 'project', reason: 'short list', approvedBy: 'R. Lead' },
    });
    expect(toldDeadline(of, FRIDAY, 'UTC').clocks[0]?.sentence).toContain('approved by R. Lead: short list');
  });

  it('only shortens the time of a bottle that is known to lack its preservative', () => {
    const approved = (hours: string, preserved: boolean) => {
      const more = { holdingHours: hours, reason: 'plan', approvedBy: 'R. Lead' };
      const world = new SamplesWorld().suite('voc', [{ group: 'volatiles', ...more }]);
      const of = only(world.bottle('V-1', 'volatiles', { suite: 'voc' }).fill('V-1', FRIDAY, { preserved }));
      const clock = of.clocks.find((one) => one.clock === 'collection-to-analysis');
      return [of.dueAt, clock?.basis.layer, clock?.basis.catalog];
    };
    expect(approved('336', true)).toEqual(['2026-05-22T20:30:00Z', 'project', 'volatiles']);
    expect(approved('336', false)).toEqual(['2026-05-15T20:30:00Z', 'regulation', 'volatiles/not-acidified']);
    expect(approved('72', false)).toEqual(['2026-05-11T20:30:00Z', 'project', 'volatiles']);
  });

  it('is not followed without a reason or an approver', () => {
    expect(suite({ holdingHours: '96', reason: 'because' }).clocks[0]?.written).toBe('48 h');
    expect(suite({ holdingHours: '96', approvedBy: 'R. Lead', reason: ' ' }).clocks[0]?.written).toBe('48 h');
  });

  it('may be one of the holding times of the catalog', () => {
    const world = new SamplesWorld().suite('pfas', [{ group: 'pfas-1633', variant: 'frozen' }]);
    const of = only(world.bottle('P-1', 'pfas-1633', { suite: 'pfas' }).fill('P-1', FRIDAY));
    expect(of.clocks.map(({ written, basis }) => [written, basis.catalog])).toEqual([
      ['90 d', 'pfas-1633/frozen'],
      ['90 d', 'pfas-1633/frozen'],
    ]);
  });
});

describe('elapsed hours, whatever clocks on walls do', () => {
  /** Zones that set their clocks at other dates, by half an hour, or not at all. */
  const zones = ['America/New_York', 'America/Chicago', 'Europe/Berlin', 'Australia/Lord_Howe', 'America/Phoenix'];

  it('agree with a temporal library that adds hours to the time of a zone', () => {
    const when = fc.integer({
      min: Date.parse('2024-01-01T00:00:00Z') / 60_000,
      max: Date.parse('2028-01-01T00:00:00Z') / 60_000,
    });
    fc.assert(
      fc.property(when, fc.constantFrom(...zones), fc.integer({ min: 1, max: 400 }), (minute, zone, hours) => {
        const start = Temporal.Instant.fromEpochMilliseconds(minute * 60_000).toZonedDateTimeISO(zone);
        const collected = `${start.toString({ timeZoneName: 'never', offset: 'auto', smallestUnit: 'second' })}`;
        const groups = [{ group: 'nitrate', holdingHours: String(hours), reason: 'of a test', approvedBy: 'A' }];
        const world = new SamplesWorld(zone).suite('n', groups).bottle('N-1', 'nitrate', { suite: 'n' });
        const of = only(world.fill('N-1', collected));
        const expected = start.add({ hours });
        expect(of.dueAt).toBe(expected.toInstant().toString());
        // and with the tables of the platform, for how it is told
        const sentence = toldDeadline(of, collected, zone).clocks[0]?.sentence ?? '';
        expect(sentence).toContain(`by ${wallClock(expected.epochMilliseconds, zone).slice(0, 16).replace('T', ' ')} `);
      }),
      { seed: 136, numRuns: 200 },
    );
  });

  it.each([
    ['forward', '2026-03-07T13:00:00-06:00', '2026-03-09 14:00 -05:00'],
    ['back', '2026-10-31T13:00:00-05:00', '2026-11-02 12:00 -06:00'],
  ])('48 h over the night when clocks go %s in Chicago', (_way, collected, wall) => {
    const of = only(new SamplesWorld().bottle('N-1', 'nitrate').fill('N-1', collected));
    expect(toldDeadline(of, collected, 'America/Chicago').clocks[0]?.sentence).toContain(`by ${wall}`);
  });
});

describe('a time that cannot be', () => {
  const NOW = '2026-05-08T16:00:00-05:00';
  const stamp = (wall: string, minutesBehind: number) => {
    const clock = { wall, monotonicMs: 1, boot: 'boot 1', sequence: 1, uncertaintyMs: 0 };
    return { ...clock, differenceMs: minutesBehind * 60_000 };
  };
  const nitrate = (collected: string, clock: ReturnType<typeof stamp> | null, rev = 1) =>
    toldDeadline(
      only(
        new SamplesWorld()
          .bottle('N-1', 'nitrate')
          .add('fill', 'f-1', { container: 'N-1', collected, preserved: true, filtered: true }, { clock, rev }),
      ),
      NOW,
      'America/Chicago',
      NOW,
    );

  it('makes no limit end later where the phone was ahead, and says by how many minutes', () => {
    const ahead = nitrate('2026-05-08T18:37:00-05:00', stamp('2026-05-08T18:37:20-05:00', -187));
    expect([ahead.dueAt, ahead.collectedAt]).toEqual(['2026-05-10T20:30:00Z', '2026-05-08T18:37:00-05:00']);
    expect(ahead.cautions).toEqual([
      'The time of its collection, 2026-05-08 18:37 -05:00, is 186 minutes later than its record, by the clock of the server: the clock of the phone was ahead, or the time is wrong. Its limits count from the record, 2026-05-08 15:30 -05:00; correct the time.',
    ]);
    // what is preserved as it is filled is so by the same clock
    expect(ahead.clocks.filter(({ state }) => state === 'late')).toEqual([]);
  });

  it('counts from the record where a year was mistyped', () => {
    const typed = nitrate('2027-05-08T15:30:00-05:00', stamp('2026-05-08T15:31:00-05:00', 0));
    expect(typed.dueAt).toBe('2026-05-10T20:31:00Z');
    expect(typed.cautions).toHaveLength(1);
  });

  it('counts from the earlier time where the phone was behind, and says by how many minutes', () => {
    const behind = nitrate(FRIDAY, stamp('2026-05-08T15:30:20-05:00', 40));
    expect(behind.dueAt).toBe('2026-05-10T20:30:00Z');
    expect(behind.cautions[0]).toContain('40 minutes behind');
  });

  it('is said of what is still to come where no clock is known', () => {
    const future = nitrate('2026-11-26T15:30:00-06:00', null);
    expect(future.cautions[0]).toContain(
      '2026-11-26 15:30 -06:00, as recorded, which is still to come: it is 2026-05-08',
    );
  });

  it('says nothing of ordinary clocks, nor of a time that was corrected', () => {
    expect(nitrate(FRIDAY, stamp('2026-05-08T15:30:20-05:00', -9)).cautions).toEqual([]);
    const corrected = nitrate(FRIDAY, stamp('2026-05-08T12:00:00-05:00', 0), 2);
    expect([corrected.cautions, corrected.dueAt]).toEqual([[], '2026-05-10T20:30:00Z']);
  });
});

describe('what is asked about', () => {
  const world = new SamplesWorld()
    .laboratory()
    .laboratory('lab-2', { name: 'Other Laboratory' })
    .add('cooler', 'c-1', { event: 'event-1', number: 'C1', laboratory: 'lab-1' })
    .add('cooler', 'c-2', { event: 'event-1', number: 'C2', laboratory: 'lab-2' })
    .bottle('M-1', 'metals-total', { cooler: 'c-1' })
    .fill('M-1', FRIDAY, { preserved: true })
    .bottle('N-1', 'nitrate', { cooler: 'c-1' })
    .fill('N-1', FRIDAY)
    .bottle('S-1', 'semivolatiles', { cooler: 'c-2' })
    .fill('S-1', FRIDAY)
    .bottle('D-1', 'nitrate', { standing: 'dropped' })
    .bottle('E-1', 'nitrate', { standing: 'expected' });
  const asked = (more: object = {}, of = world) =>
    clocksAsked(eventClocks(of.samples()), { at: FRIDAY, which: 'awaited', ...more }).map(
      ({ container }) => container.fields.label,
    );

  it('stands in the order of what can still be met, and not of what ended at the well', () => {
    const filtered = new SamplesWorld()
      .bottle('O-1', 'orthophosphate')
      .fill('O-1', FRIDAY)
      .bottle('N-1', 'nitrate')
      .fill('N-1', '2026-05-08T14:30:00-05:00');
    const told = eventClocks(filtered.samples());
    expect(told.map(({ container, dueAt }) => [container.fields.label, dueAt])).toEqual([
      ['N-1', '2026-05-10T19:30:00Z'],
      ['O-1', '2026-05-10T20:30:00Z'],
    ]);
    const inField = told[1]?.clocks.find(({ clock }) => clock === 'collection-to-filtration');
    expect(inField).toMatchObject({ state: 'running', dueAt: '2026-05-08T20:45:00Z' });
    expect(asked({ within: 1 }, filtered)).toEqual([]);
  });

  it('has what ran out at the well among what is past', () => {
    const unpreserved = new SamplesWorld()
      .bottle('M-1', 'metals-total', { preservatives: ['nitric-acid'] })
      .fill('M-1', FRIDAY, { preserved: false });
    const [of] = eventClocks(unpreserved.samples());
    const state = (at: string) => {
      const told = of && toldDeadline(of, at, 'America/Chicago');
      const clock = told?.clocks.find((one) => one.clock === 'collection-to-preservation');
      return [clock?.state, clock?.leftMinutes, told?.isPast === true];
    };
    expect(state('2026-05-08T15:45:00-05:00')).toEqual(['running', 0, false]);
    expect(state('2026-05-08T17:47:00-05:00')).toEqual(['past', -122, true]);
    expect(asked({ within: 0 }, unpreserved)).toEqual([]);
    expect(asked({ within: 0, at: '2026-05-08T17:47:00-05:00' }, unpreserved)).toEqual(['M-1']);
  });

  it('comes with the tightest first, and what has not begun last', () => {
    expect(asked()).toEqual(['N-1', 'S-1', 'M-1', 'E-1']);
    expect(asked({ which: 'all' }).toSorted()).toEqual(['D-1', 'E-1', 'M-1', 'N-1', 'S-1']);
  });

  it('is narrowed by cooler, laboratory and hours', () => {
    expect(asked({ cooler: idOf('c-2') })).toEqual(['S-1']);
    expect(asked({ laboratory: idOf('lab-1') })).toEqual(['N-1', 'M-1']);
    expect(asked({ within: 47 })).toEqual([]);
    expect(asked({ within: 48 })).toEqual(['N-1']);
  });

  it('is without what was received, but with what the laboratory did not find', () => {
    const items = [{ label: 'M-1', condition: 'missing' }];
    const received = new SamplesWorld()
      .laboratory()
      .add('cooler', 'c-1', { event: 'event-1', number: 'C1' })
      .bottle('M-1', 'metals-total', { cooler: 'c-1' })
      .bottle('N-1', 'nitrate', { cooler: 'c-1' })
      .bottle('V-1', 'volatiles')
      .add('sample-receipt', 'r-1', { event: 'event-1', cooler: 'c-1', received: '2026-05-11T09:00:00-05:00', items });
    expect(asked({}, received)).toEqual(['M-1', 'V-1']);
    // a receipt ends no clock
    const nitrate = received.fill('N-1', FRIDAY);
    expect(asked({ which: 'running' }, nitrate)).toEqual(['N-1', 'M-1', 'V-1']);
    expect(asked({}, nitrate)).toEqual(['M-1', 'V-1']);
    const later = {
      event: 'event-1',
      received: '2026-05-12T09:00:00-05:00',
      items: [{ label: 'M-1', condition: 'ok' }],
    };
    expect(asked({}, received.add('sample-receipt', 'r-2', later))).toEqual(['V-1']);
  });

  it('ends with the analysis, where a result says when', () => {
    const result = {
      event: 'event-1',
      sample: 'sample-W-1',
      analyte: 'Nitrate',
      unit: 'mg/L',
      value: '1.0',
      condition: 'detected',
    };
    const analysed = (analyzed: string) =>
      only(
        new SamplesWorld()
          .suite('n', [{ group: 'nitrate' }])
          .sampled('W-1', ['n'], FRIDAY)
          .bottle('N-1', 'nitrate', { sample: 'sample-W-1', suite: 'n' })
          .fill('N-1', FRIDAY)
          .add('laboratory-result', 'x-1', { ...result, analyzed }),
      );
    expect(analysed('2026-05-10T15:30:00-05:00').clocks[0]).toMatchObject({ state: 'in-time', spareMinutes: 0 });
    const late = analysed('2026-05-10T15:31:00-05:00');
    expect(late.clocks[0]?.state).toBe('late');
    expect(late.dueAt).toBeNull();
    expect(toldDeadline(late, FRIDAY, 'America/Chicago').clocks[0]?.sentence).toContain(
      'done 2026-05-10 15:31 -05:00, late',
    );
  });
});
