import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type CompletenessTold,
  completenessTold,
  percentOf,
} from '../../../../src/rules/samples/completeness/completeness-told.ts';
import { idOf, SamplesWorld } from '../samples-world.ts';

const AT = '2026-05-05T10:00:00-05:00';
const told = (of: SamplesWorld, show: 'all' | 'lacking' = 'all') => completenessTold(of.samples(), { show });

function well(of: SamplesWorld, name: string, more: object = {}): SamplesWorld {
  of.add('well', name, { site: 'site-1', name, standing: 'in-service', depthsFrom: 'ground' });
  return of.add('visit', `visit-${name}`, {
    event: 'event-1',
    well: name,
    crew: 'crew-1',
    method: 'low-flow',
    arrived: AT,
    ...more,
  });
}

function planned(of: SamplesWorld, id: string, more: object): SamplesWorld {
  return of.add('planned-sample', id, {
    event: 'event-1',
    number: id,
    type: 'normal',
    standing: 'planned',
    suites: [],
    ...more,
  });
}

/** Three wells with one suite of two groups: one whole, one dry, one short of a bottle; and a trip blank. */
function round(): SamplesWorld {
  const of = new SamplesWorld()
    .suite('ions', [{ group: 'nitrate' }, { group: 'metals-total' }], {
      analytes: [{ name: 'Nitrate' }, { name: 'Lead' }],
    })
    .suite('voc', [{ group: 'volatiles' }])
    .add('cooler', 'c-1', { event: 'event-1', number: 'C1' })
    .add('crew', 'crew-1', { name: 'Crew 1' });
  well(of, 'W-1');
  well(of, 'W-2', { outcome: 'dry', outcomeReason: 'no water in 30 ft' });
  well(of, 'W-3');
  for (const name of ['W-1', 'W-2', 'W-3']) planned(of, `P-${name}`, { well: name, suites: ['ions'] });
  for (const name of ['W-1', 'W-3'])
    of.add('sample', `S-${name}`, {
      visit: `visit-${name}`,
      number: `S-${name}`,
      suites: ['ions'],
      collected: AT,
      planned: `P-${name}`,
    });
  planned(of, 'P-T', { type: 'trip-blank', suites: ['voc'] });
  of.bottle('N-1', 'nitrate', { sample: 'S-W-1', suite: 'ions', cooler: 'c-1' });
  of.bottle('M-1', 'metals-total', { sample: 'S-W-1', suite: 'ions', cooler: 'c-1' });
  of.bottle('N-3', 'nitrate', { sample: 'S-W-3', suite: 'ions', cooler: 'c-1' });
  const dropped = { standing: 'dropped', droppedBecause: '900 mL of water', agreedBy: 'R. Lead' };
  of.bottle('M-3', 'metals-total', { sample: 'S-W-3', suite: 'ions', ...dropped });
  const items = [{ label: 'N-3', condition: 'broken', remark: 'cap' }];
  of.add('sample-receipt', 'r-1', { event: 'event-1', cooler: 'c-1', received: '2026-05-06T09:00:00-05:00', items });
  const result = { event: 'event-1', sample: 'S-W-1', unit: 'mg/L', value: '1', condition: 'detected' };
  return of.add('laboratory-result', 'x-1', { ...result, analyte: 'nitrate' });
}

function lackOf(answer: CompletenessTold, name: string) {
  const samples = name === 'blanks' ? answer.blanks : answer.wells.find((one) => one.name === name)?.samples;
  return samples
    ?.flatMap(({ suites }) => suites.flatMap(({ lacking }) => lacking))
    .map(({ what, label, group, count, why, agreedBy }) => ({ what, label, group, count, why, agreedBy }));
}

describe('the completeness of an event', () => {
  it('misses no bottle of a spike for what is spiked out of the bottle of its parent', () => {
    const of = new SamplesWorld().suite('all', [{ group: 'metals-total' }, { group: 'volatiles' }]);
    well(of, 'W-1');
    planned(of, 'P-1', { well: 'W-1', suites: ['all'], type: 'matrix-spike' });
    expect(lackOf(told(of), 'W-1')?.map(({ group }) => group)).toEqual(['volatiles']);
    const taken = { visit: 'visit-W-1', number: 'S-1', suites: ['all'], collected: AT, planned: 'P-1' };
    of.add('sample', 'S-1', taken).bottle('V-1', 'volatiles', { sample: 'S-1' });
    expect(lackOf(told(of), 'W-1')?.map(({ label }) => label)).toEqual(['V-1']);
  });

  it('counts what was expected, collected, received and reported, and says what its percentages are of', () => {
    const { totals, definition } = told(round());
    expect(totals).toEqual({
      samples: 4,
      // two bottles of each of three wells, and three vials of the blank
      expected: 9,
      dropped: 1,
      collected: 3,
      received: 2,
      suites: 4,
      suitesResulted: 0,
      percentCollected: '33.3',
      percentReceived: '22.2',
      percentResulted: '0.0',
      percentCollectedOfNotDropped: '37.5',
      unknownBecause: null,
    });
    expect(definition).toMatchObject({ verified: false, source: expect.stringContaining('QA/G-5') });
  });

  it('says what lacks of each well and why: the dry well, the dropped bottle and who agreed, what broke', () => {
    const answer = told(round());
    expect(lackOf(answer, 'W-1')).toEqual([
      { what: 'not-resulted', label: null, group: null, count: 1, why: null, agreedBy: null },
    ]);
    const dry = 'Its visit ended dry: no water in 30 ft (Crew 1, 2026-05-05 10:00)';
    expect(lackOf(answer, 'W-2')).toEqual([
      { what: 'not-collected', label: null, group: 'nitrate', count: 1, why: dry, agreedBy: null },
      { what: 'not-collected', label: null, group: 'metals-total', count: 1, why: dry, agreedBy: null },
    ]);
    expect(lackOf(answer, 'W-3')).toEqual([
      { what: 'came-spoilt', label: 'N-3', group: 'nitrate', count: 1, why: 'broken: cap', agreedBy: null },
      { what: 'dropped', label: 'M-3', group: 'metals-total', count: 1, why: '900 mL of water', agreedBy: 'R. Lead' },
    ]);
    expect(lackOf(answer, 'blanks')).toEqual([
      { what: 'not-collected', label: null, group: 'volatiles', count: 3, why: null, agreedBy: null },
    ]);
  });

  it('names each well that was left without a sample, by whom and when, and the QC that belongs to another well now', () => {
    const of = round();
    const left = '2026-05-05T11:00:00-05:00';
    planned(of, 'P-D', { well: 'W-2', suites: ['ions'], type: 'blind-duplicate', of: 'P-W-2' });
    planned(of, 'P-M', {
      ...{ well: 'W-2', suites: ['ions'], type: 'matrix-spike', standing: 'dropped' },
      droppedBecause: 'By the plan: one for each 20 samples is asked for, and others are enough',
    });
    well(of, 'W-4', { outcome: 'purged-dry', left });
    well(of, 'W-5', { outcome: 'gauged-only', method: 'gauging', left });
    const answer = told(of, 'lacking');
    const wells = new Map(answer.wells.map(({ name, notSampled }) => [name, notSampled]));
    expect([...wells.keys()]).toEqual(['W-1', 'W-2', 'W-3', 'W-4']);
    expect([wells.get('W-1'), wells.get('W-3')]).toEqual([null, null]);
    expect(wells.get('W-2')).toMatchObject({
      ...{ outcome: 'dry', outcomeReason: 'no water in 30 ft', crewName: 'Crew 1', after: 'out' },
      qcOwedAnew: [{ plannedSample: idOf('P-D'), number: 'P-D', type: 'blind-duplicate', suites: ['ions'] }],
      sentence:
        'W-2 was left without a sample: dry (no water in 30 ft); Crew 1, 2026-05-05 10:00. Owed at another well: blind-duplicate P-D (ions).',
    });
    // nothing was planned there by number, and it is told all the same
    expect(wells.get('W-4')).toMatchObject({ left, after: 'after-recovery', qcOwedAnew: [] });
  });

  it('is complete once every analyte is reported, and tells by default of all', () => {
    const of = round().add('laboratory-result', 'x-2', {
      ...{ event: 'event-1', sample: 'S-W-1', unit: 'mg/L', condition: 'not-detected', reportingLimit: '1' },
      analyte: 'Lead',
    });
    expect(told(of).totals).toMatchObject({ suitesResulted: 1, percentResulted: '25.0' });
    expect(told(of).wells.map(({ name }) => name)).toEqual(['W-1', 'W-2', 'W-3']);
    expect(told(of, 'lacking').wells.map(({ name }) => name)).toEqual(['W-2', 'W-3']);
    expect(told(of, 'lacking').totals).toEqual(told(of).totals);
  });

  it('drops with its planned sample what was never labelled', () => {
    const of = new SamplesWorld().suite('voc', [{ group: 'volatiles', containers: 2, reason: 'x', approvedBy: 'y' }]);
    planned(well(of, 'W-1'), 'P', { well: 'W-1', suites: ['voc'], standing: 'dropped', droppedBecause: 'no access' });
    expect(told(of).totals).toMatchObject({ expected: 2, dropped: 2, percentCollectedOfNotDropped: null });
    expect(lackOf(told(of), 'W-1')).toMatchObject([{ what: 'dropped', count: 2, why: 'no access' }]);
  });

  it('expects of an assigned well what the plan names, where nothing is planned by number', () => {
    const sampling = { suites: ['voc'], wells: [{ well: 'W-2', suites: ['ions'] }] };
    const of = new SamplesWorld('UTC', sampling)
      .suite('voc', [{ group: 'volatiles' }])
      .suite('ions', [{ group: 'nitrate' }]);
    well(well(well(of, 'W-1'), 'W-2'), 'W-3');
    of.add('assignment', 'a-1', { event: 'event-1', crew: 'crew-1', well: 'W-1', suites: ['other'] });
    const answer = told(of);
    expect(
      answer.wells.map(({ name, samples }) => [
        name,
        samples[0]?.suites.map(({ suite, expected }) => [suite, expected]),
      ]),
    ).toEqual([
      ['W-1', [['voc', 3]]],
      ['W-2', [['ions', 1]]],
    ]);
  });

  it('counts a bottle that serves two suites once, and one that was filled anew once', () => {
    const of = new SamplesWorld().suite('a', [{ group: 'nitrate' }]).suite('b', [{ group: 'chloride' }]);
    of.sampled('W-1', ['a', 'b'], AT).bottle('B-1', 'nitrate', { sample: 'sample-W-1', alsoGroups: ['chloride'] });
    of.bottle('B-0', 'nitrate', { sample: 'sample-W-1', standing: 'discarded' });
    expect(told(of).totals).toMatchObject({ expected: 1, collected: 1, suites: 2, percentCollected: '100.0' });
    expect(told(of).wells[0]?.samples[0]?.suites.map(({ suite, expected }) => [suite, expected])).toEqual([
      ['a', 1],
      ['b', 1],
    ]);
  });

  it('keeps planned what was thrown away and not filled anew, and names it', () => {
    const vials = (of: SamplesWorld, discarded: number, filled: number, type = 'normal') => {
      of.suite('voc', [{ group: 'volatiles' }]).sampled('W-1', ['voc'], AT, { type });
      for (let at = 1; at <= discarded + filled; at += 1)
        of.bottle(`V-${at}`, 'volatiles', { sample: 'sample-W-1', standing: at <= discarded ? 'discarded' : 'filled' });
      return told(of);
    };
    const short = vials(new SamplesWorld(), 1, 2);
    expect(short.totals).toMatchObject({ expected: 3, collected: 2, percentCollected: '66.6' });
    expect(short.wells[0]?.samples[0]?.suites[0]?.lacking.at(-1)).toMatchObject({
      label: 'V-1',
      what: 'not-collected',
      why: 'It was filled and thrown away, and none was filled in its place.',
    });
    expect(vials(new SamplesWorld(), 1, 3).totals).toMatchObject({ expected: 3, collected: 3 });
    expect(vials(new SamplesWorld(), 3, 2).totals).toMatchObject({ expected: 3, collected: 2 });
    // a spike brings each of them twice
    expect(vials(new SamplesWorld(), 1, 5, 'matrix-spike').totals).toMatchObject({ expected: 6, collected: 5 });
  });

  it('lists a number once, though the sample that has it does not name what was planned', () => {
    const of = new SamplesWorld().suite('ions', [{ group: 'nitrate' }]);
    of.sampled('W-1', ['ions'], AT, { number: 'P-1' }).bottle('N-1', 'nitrate', {
      sample: 'sample-W-1',
      planned: 'P-1',
    });
    of.sampled('W-2', ['ions'], AT, { number: 'P-3' });
    planned(planned(of, 'P-1', { well: 'W-1', suites: ['ions'] }), 'P-3', { well: 'W-3', suites: ['ions'] });
    const numbers = told(of).wells.flatMap(({ name, samples }) => samples.map((one) => [name, one.number, one.sample]));
    expect(numbers).toEqual([
      // of another well: which of the two is meant nobody knows
      [null, 'P-3', null],
      ['W-1', 'P-1', idOf('sample-W-1')],
      ['W-2', 'P-3', idOf('sample-W-2')],
    ]);
    expect(told(of).totals).toMatchObject({ samples: 3, expected: 3, collected: 1 });
  });

  it('tells a blank as what it is, with what no suite asks for', () => {
    const of = new SamplesWorld().add('blank', 'b', {
      event: 'event-1',
      type: 'temperature',
      number: 'T',
      collected: AT,
      suites: [],
    });
    const [blank] = told(of.bottle('T-1', 'water', { blank: 'b' })).blanks;
    expect(blank).toMatchObject({
      type: 'temperature-blank',
      blank: idOf('b'),
      suites: [{ suite: null, expected: 1, collected: 1 }],
    });
  });

  it('is not complete where nothing is expected: it cannot be told, and why', () => {
    const none = told(well(new SamplesWorld(), 'W-1')).totals;
    expect(none).toMatchObject({ expected: 0, percentCollected: null });
    expect(none.unknownBecause).toMatch(/^Nothing was planned and no sample was taken: /);
    const of = well(new SamplesWorld().suite('metals', [{ group: 'metals-total' }]), 'W-1');
    planned(of, 'P-1', { well: 'W-1', suites: ['unheard of'] });
    planned(of, 'P-2', { well: 'W-1', suites: ['metals'], type: 'matrix-spike' });
    const answer = told(of);
    const lines = answer.wells.flatMap(({ samples }) => samples.flatMap(({ suites }) => suites));
    expect(
      lines.map(({ suite, expected, isComplete, unknownBecause }) => [suite, expected, isComplete, unknownBecause]),
    ).toEqual([
      ['unheard of', 0, null, 'the suite "unheard of" is not on record: which containers it asks for is not known'],
      [
        'metals',
        0,
        null,
        'nothing of "metals" has a bottle of its own in a matrix-spike: it is spiked out of the bottle of its parent',
      ],
    ]);
    expect(answer.totals.unknownBecause).toContain('No container is expected: the suite "unheard of" is not on record');
    const whole = told(round());
    expect(whole.totals.unknownBecause).toBeNull();
    const all = whole.wells.flatMap(({ samples }) => samples.flatMap(({ suites }) => suites));
    expect(all.map(({ isComplete, unknownBecause }) => [isComplete, unknownBecause])).toEqual([
      [false, null],
      [false, null],
      [false, null],
    ]);
  });

  it('never rounds up to complete', () => {
    expect([percentOf(1999, 2000), percentOf(2000, 2000), percentOf(0, 5), percentOf(0, 0)]).toEqual([
      '99.9',
      '100.0',
      '0.0',
      null,
    ]);
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10_000 }), fc.integer({ min: 0, max: 10_000 }), (whole, part) => {
        const text = percentOf(Math.min(part, whole), whole);
        expect(text === '100.0').toBe(part >= whole);
        expect(Math.abs(Number(text) - (Math.min(part, whole) / whole) * 100)).toBeLessThan(0.1 + 1e-9);
      }),
      { seed: 5 },
    );
  });
});
