import { describe, expect, it } from 'vitest';
import { owedQcTold } from '../../../src/rules/sampling-plan/owed-qc-told.ts';
import type { VisitSummary } from '../../../src/rules/well-rounds/well-records.ts';
import { idOf, type RoundOf, TestRound, wellName } from './plan-facts.ts';

const DAY = '2026-05-04';
const FOUND = {
  analyte: 'tetrachloroethene',
  unit: 'ug/L',
  reportingLimit: '0.5',
  value: '12',
  condition: 'detected',
} as const;
const NOTHING = { ...FOUND, value: undefined, condition: 'not-detected' } as const;

function owed(round: TestRound, given: { well?: string; crew?: string; day?: string } = {}) {
  const told = owedQcTold(round.facts(), { day: DAY, ...given });
  const of = (type: string) => {
    const found = told.types.find((one) => one.type === type);
    if (!found) throw new Error(`nothing is told of ${type}`);
    return found;
  };
  const wells = (type: string) => told.wells.filter((one) => one.type === type);
  return { told, of, wells };
}

/** Wells of which the first so many are sampled, each by its own crew. */
function withTaken(taken: number, given: RoundOf): TestRound {
  const round = new TestRound(given);
  round.plan();
  for (let at = 1; at <= taken; at += 1) round.sample(at);
  return round;
}

function summary(round: TestRound, at: number, more: Partial<VisitSummary>): void {
  const its = {
    well: idOf(wellName(at)),
    eventName: 'Fall',
    method: 'low-flow',
    wentDry: false,
    ...more,
  } as VisitSummary;
  round.summaries = new Map([...round.summaries, [its.well, [its]]]);
}

describe('what is owed by now', () => {
  it.each([
    [0, 0, 4],
    [1, 1, 4],
    [10, 1, 4],
    [11, 2, 4],
    [36, 4, 4],
  ])('of 37 samples, with %i taken and no duplicate: %i duplicates, %i to come', (taken, owedNow, toCome) => {
    const { of } = owed(withTaken(taken, { wells: 37 }));
    expect([of('duplicate').owedNow, of('duplicate').toCome]).toEqual([owedNow, toCome]);
  });

  it('counts what was taken, and of which suite', () => {
    const round = withTaken(12, { wells: 37, suites: ['VOC', 'Metals'] });
    round.put('sample', idOf('dup'), {
      visit: idOf(`visit ${wellName(2)}`),
      number: 'D-1',
      suites: ['VOC'],
      collected: `${DAY}T10:40:00-05:00`,
      type: 'duplicate',
      of: idOf(`sample ${wellName(2)} normal`),
    });
    const { suites, owedNow, done, doneOnDay } = owed(round).of('duplicate');
    expect(suites).toEqual([
      { suite: 'Metals', taken: 12, done: 0, askedSoFar: 2, owedNow: 2, askedInAll: 4 },
      { suite: 'VOC', taken: 12, done: 1, askedSoFar: 2, owedNow: 1, askedInAll: 4 },
    ]);
    expect([owedNow, done, doneOnDay]).toEqual([2, 1, 1]);
    expect(owed(round, { day: '2026-05-05' }).of('duplicate').doneOnDay).toBe(0);
  });

  it.each(['number', 'bottles'])('counts a duplicate that has only the %s of its plan, as the plan does', (has) => {
    const round = withTaken(0, { wells: 3 });
    const [plan] = round.planned('blind-duplicate');
    const at = [1, 2, 3].find((one) => idOf(wellName(one)) === plan?.fields.well) ?? 0;
    round.sample(at, {}, false);
    const number = has === 'number' ? plan?.fields.number : 'typed wrong';
    const more = { number, suites: ['VOC'], collected: `${DAY}T10:40:00-05:00` };
    round.put('sample', idOf('dup'), { visit: idOf(`visit ${wellName(at)}`), ...more });
    if (has === 'bottles')
      for (const { id } of round.containersOf(plan?.id ?? ''))
        round.amend(id, { sample: idOf('dup'), standing: 'filled' });
    const { suites, done, owedNow } = owed(round).of('duplicate');
    expect([done, owedNow, suites]).toMatchObject([1, 0, [{ taken: 1, done: 1 }]]);
    expect(round.propose().samples.find(({ id }) => id === plan?.id)?.isTaken).toBe(true);
  });

  it.each(['its bottles', 'those of its first sample', 'its first sample'])(
    'owes anew a duplicate that lost %s, and plans another',
    (what) => {
      const round = new TestRound({ wells: 3 });
      round.plan();
      const [plan] = round.planned('blind-duplicate');
      const at = [1, 2, 3].find((one) => idOf(wellName(one)) === plan?.fields.well) ?? 0;
      const first = round.sample(at);
      const twin = round.sample(at, { type: 'blind-duplicate', of: first });
      const fill = (sample: string) => {
        const planned = String(round.states.get(sample)?.fields.planned);
        for (const { id } of round.containersOf(planned)) round.amend(id, { sample, standing: 'filled' });
      };
      const discard = (sample: string) => {
        for (const { id } of round.ofKind('container').filter(({ fields }) => fields.sample === sample))
          round.amend(id, { standing: 'discarded' });
      };
      fill(first);
      fill(twin);
      const planned = () => round.propose().samples.filter((one) => one.type === plan?.fields.type).length;
      expect([owed(round).of('duplicate').done, planned()]).toEqual([1, 1]);
      if (what === 'its first sample') round.void(first);
      else discard(what === 'its bottles' ? twin : first);
      expect(owed(round).of('duplicate')).toMatchObject({ done: 0, toCome: 1 });
      expect(planned()).toBe(2);
    },
  );

  it('says in a sentence what and where next', () => {
    const round = withTaken(3, { wells: 12 });
    round.lastResults = new Map([[idOf(wellName(7)), [FOUND]]]);
    const { of } = owed(round);
    expect(of('duplicate').sentence).toMatch(
      /^1 duplicate is owed by now, 2 until the end of the event\. Next best at W-/,
    );
    expect(of('equipment-blank').sentence).toBe('No equipment blank is owed.');
  });
});

describe('which wells suit', () => {
  it('for a duplicate those with likely detections before those of which nothing is known, those without last', () => {
    const round = new TestRound({ wells: 4, sampling: { duplicatesPer: 1 } });
    round.lastResults = new Map([
      [idOf(wellName(1)), [NOTHING]],
      [idOf(wellName(3)), [FOUND]],
    ]);
    const list = owed(round).wells('duplicate');
    expect(list.map(({ suits }) => suits)).toEqual(['good', 'fair', 'fair', 'poor']);
    expect([list[0]?.name, list[3]?.name]).toEqual(['W-003', 'W-001']);
    expect(list[0]?.why[0]).toBe('a duplicate is planned here');
    expect(list[0]?.why).toContain('detections are likely (tetrachloroethene last time)');
  });

  it('for a matrix spike none with little water, and one that did not go dry before others', () => {
    const round = new TestRound({ wells: 4 });
    summary(round, 1, { wentDry: true });
    summary(round, 2, { flowMlPerMin: '200' });
    summary(round, 3, { outcome: 'insufficient-water' });
    const list = owed(round).wells('matrix-spike');
    expect(list.map(({ name, suits }) => [name, suits])).toEqual([
      ['W-002', 'good'],
      ['W-004', 'fair'],
      ['W-001', 'no'],
      ['W-003', 'no'],
    ]);
    expect(list[2]?.why.join()).toContain('little water in Fall');
    expect(list[0]?.why).toContain('it did not go dry in Fall (at 200 mL/min)');
  });

  it('spreads over the crews: that which took none comes first', () => {
    const round = new TestRound({ wells: 12, sampling: { duplicatesPer: 2 } });
    round.sample(1);
    round.sample(1, { type: 'duplicate', of: idOf(`sample ${wellName(1)} normal`), number: 'D-1', suites: ['VOC'] });
    round.plan();
    const notPlanned = owed(round)
      .wells('duplicate')
      .filter(({ planned }) => planned === null);
    expect(notPlanned[0]?.crew).toBe(idOf('crew-1'));
    expect(owed(round).wells('duplicate')[0]?.why).toContain('its crew has taken none yet');
  });

  it('leaves out wells that are done, and those of other crews where one is named', () => {
    const round = withTaken(4, { wells: 10 });
    const names = owed(round)
      .wells('duplicate')
      .map(({ name }) => name)
      .toSorted();
    expect(names).toEqual([5, 6, 7, 8, 9, 10].map(wellName));
    const ofCrew = owed(round, { crew: idOf('crew-1') }).wells('duplicate');
    expect(ofCrew.map(({ name }) => name).toSorted()).toEqual([6, 8, 10].map(wellName));
  });

  it('says of a well that nobody got at that it needs another visit, before what earlier rounds tell', () => {
    const round = new TestRound({ wells: 2 });
    summary(round, 1, { flowMlPerMin: '200' });
    const times = { arrived: `${DAY}T09:00:00-05:00`, left: `${DAY}T09:10:00-05:00` };
    const visit = { event: round.event, well: idOf(wellName(1)), crew: idOf('crew-1'), method: 'low-flow', ...times };
    round.put('visit', idOf('no access'), { ...visit, outcome: 'no-access' });
    const list = owed(round).wells('matrix-spike');
    expect(list.map(({ name, suits }) => [name, suits])).toEqual([
      ['W-002', 'fair'],
      ['W-001', 'poor'],
    ]);
    expect(list[1]?.why.join()).toContain('left without a sample and needs another visit: no-access');
  });

  it('asks for nothing where the suites of a well are owed no more', () => {
    const round = new TestRound({ wells: 2 });
    round.well(3, ['Metals']);
    round.plan();
    const [at] = round.planned('blind-duplicate').filter(({ fields }) => fields.well === idOf(wellName(3)));
    round.sample(3, {}, false);
    round.sample(3, { type: 'blind-duplicate', planned: at?.id, number: at?.fields.number, suites: ['Metals'] }, false);
    const here = owed(round, { well: idOf(wellName(3)) }).told.here;
    expect(here?.types.find(({ type }) => type === 'duplicate')).toMatchObject({
      suits: 'no',
      why: ['no suite of this well is owed any more'],
    });
  });
});

describe('at the well', () => {
  it('says what may be taken here, with the number that is planned', () => {
    const round = new TestRound({ wells: 3 });
    round.plan();
    const [planned] = round.planned('blind-duplicate');
    const here = owed(round, { well: String(planned?.fields.well) }).told.here;
    const duplicate = here?.types.find(({ type }) => type === 'duplicate');
    expect(duplicate).toMatchObject({ planned: planned?.id, number: planned?.fields.number, suits: 'fair' });
    expect(duplicate?.why[0]).toBe(`a duplicate is planned here as ${planned?.fields.number}`);
    expect(here?.sentence).toMatch(/^At W-00\d may be taken\. duplicate: fair/);
  });

  it('says that a well is done, or is none of the event', () => {
    const round = withTaken(1, { wells: 2 });
    expect(owed(round, { well: idOf(wellName(1)) }).told.here?.sentence).toBe('W-001 is done: its sample was taken.');
    round.dropWell(2);
    expect(owed(round, { well: idOf(wellName(2)) }).told.here?.sentence).toBe(
      'W-002 is not among the wells of the event that are sampled.',
    );
  });
});

describe('blanks and splits', () => {
  it('a rinsate through each pump on each day of its use', () => {
    const round = new TestRound({ wells: 3, equipment: { rinsatePer: 'unit-and-day' } });
    const used = (unit: string, day: string) => ({ unit: idOf(unit), label: unit, day });
    round.pumpDays = [used('P-1', DAY), used('P-1', DAY), used('P-1', '2026-05-05'), used('P-2', DAY)];
    const blank = { event: round.event, type: 'equipment', number: 'R-1', unit: idOf('P-1'), suites: ['VOC'] };
    round.put('blank', idOf('rinsate'), { ...blank, collected: `${DAY}T17:00:00-05:00` });
    const { done, owedNow, missing, source } = owed(round).of('equipment-blank');
    expect([done, owedNow, missing]).toEqual([
      1,
      2,
      ['through P-1, used on 2026-05-05', 'through P-2, used on 2026-05-04'],
    ]);
    expect(source).toBe('a sampling plan, county file, doc 565229, page 291');
  });

  it('by the day at the site, however the offset of an instant is written', () => {
    const round = new TestRound({ wells: 3, equipment: { rinsatePer: 'unit-and-day' } });
    // half past seven in the evening of that day, there
    const evening = '2026-05-05T00:30:00Z';
    round.sample(1, { collected: evening });
    expect(owed(round).of('field-blank').missing).toEqual([`on ${DAY}, for VOC`]);
    round.pumpDays = [{ unit: idOf('P-1'), label: 'P-1', day: DAY }];
    const blank = { event: round.event, suites: ['VOC'], collected: evening };
    round.put('blank', idOf('rinsate'), { ...blank, type: 'equipment', number: 'R-1', unit: idOf('P-1') });
    round.put('blank', idOf('field'), { ...blank, type: 'field', number: 'F-1', collected: `${DAY}T09:00:00-05:00` });
    expect([owed(round).of('equipment-blank').owedNow, owed(round).of('field-blank').owedNow]).toEqual([0, 0]);
    round.sample(2, { type: 'duplicate', collected: evening });
    expect(owed(round).of('duplicate').doneOnDay).toBe(1);
  });

  it('a field blank for each day on which volatiles were taken, one for PFAS', () => {
    const round = withTaken(3, { wells: 3, suites: ['VOC', 'PFAS'] });
    expect(owed(round).of('field-blank').missing).toEqual(['of the event, for PFAS', 'on 2026-05-04, for VOC']);
    const blank = {
      event: round.event,
      type: 'field',
      number: 'F-1',
      collected: `${DAY}T09:00:00-05:00`,
      suites: ['VOC'],
    };
    round.put('blank', idOf('field'), blank);
    expect(owed(round).of('field-blank').missing).toEqual(['of the event, for PFAS']);
    expect(owed(withTaken(3, { wells: 3, suites: ['Metals'] })).of('field-blank').owedNow).toBe(0);
    expect(owed(withTaken(3, { wells: 3, sampling: { fieldBlanksPer: 'none' } })).of('field-blank').owedNow).toBe(0);
    const event = owed(withTaken(3, { wells: 3, suites: ['Metals'], sampling: { fieldBlanksPer: 'event' } }));
    expect(event.of('field-blank').missing).toEqual(['of the event, for Metals']);
  });

  it('a trip blank in each cooler with volatiles, a temperature blank in each', () => {
    const round = withTaken(2, { wells: 2, suites: ['VOC', 'Metals'] });
    for (const number of ['C-1', 'C-2']) round.put('cooler', idOf(number), { event: round.event, number });
    const [vial] = round.ofKind('container').filter(({ fields }) => fields.group === 'volatiles');
    round.amend(vial?.id ?? '', { cooler: idOf('C-1') });
    expect(owed(round).of('trip-blank').missing).toEqual(['in cooler C-1']);
    expect(owed(round).of('temperature-blank').missing).toEqual(['in cooler C-1', 'in cooler C-2']);
    const [trip] = round.planned('trip-blank');
    for (const { id } of round.containersOf(trip?.id ?? '')) round.amend(id, { cooler: idOf('C-1') });
    const [cold] = round.planned('temperature-blank');
    for (const { id } of round.containersOf(cold?.id ?? '')) round.amend(id, { cooler: idOf('C-2') });
    expect(owed(round).of('trip-blank').owedNow).toBe(0);
    expect(owed(round).of('temperature-blank').missing).toEqual(['in cooler C-1']);
  });

  it('a split where the sample of its well was taken', () => {
    const sampling = { wells: [1, 2].map((at) => ({ well: idOf(wellName(at)), splitWith: idOf('lab-2') })) };
    const round = withTaken(1, { wells: 3, sampling, laboratories: 2 });
    expect(owed(round).of('split').missing).toEqual(['of well W-001']);
    round.sample(1, { type: 'split' });
    expect([owed(round).of('split').owedNow, owed(round).of('split').done]).toEqual([0, 1]);
  });
});

describe('where it cannot be told', () => {
  it('says what is missing, and not that nothing is owed: an event without suites, plan or samples', () => {
    const { told, of } = owed(new TestRound({ wells: 3, suites: [] }));
    for (const type of ['duplicate', 'matrix-spike', 'field-blank', 'trip-blank']) {
      expect(of(type).unknownBecause).toContain('no suite is named for any well of the event');
      expect(of(type).unknownBecause).toContain('(it has no sampling plan)');
      expect(of(type).sentence).toMatch(/^Whether a .* is owed cannot be told: no suite is named/);
    }
    expect(told.types.filter(({ sentence }) => sentence.startsWith('No ')).map(({ type }) => type)).toEqual([
      'split',
      'equipment-blank',
    ]);
  });

  it('of a suite that is not on record nobody knows whether it asks for a blank', () => {
    const round = new TestRound({ wells: 2, suites: ['VOC', 'Unheard of'] });
    expect(owed(round).of('field-blank').sentence).toContain('what is analysed for "Unheard of" is not on record');
    expect(owed(round).of('duplicate').unknownBecause).toBeNull();
    const none = new TestRound({ wells: 2, suites: ['Unheard of'], sampling: { fieldBlanksPer: 'none' } });
    expect(owed(none).of('field-blank')).toMatchObject({ unknownBecause: null, sentence: 'No field blank is owed.' });
  });

  it('says what the plan asks for, where nothing was taken yet and where no cooler is there', () => {
    const { of } = owed(new TestRound({ wells: 3 }));
    expect(of('field-blank')).toMatchObject({ unknownBecause: null, owedNow: 0 });
    expect(of('field-blank').sentence).toBe(
      'No field blank is owed by now, as nothing was taken that asks for one; the plan asks for 1 in all.',
    );
    expect(of('trip-blank').sentence).toBe(
      'Whether a trip blank is owed cannot be told: no cooler is on record, and one is owed in each that needs it. The plan asks for 1 in all.',
    );
    const warm = owed(new TestRound({ wells: 3, sampling: { temperatureBlankPerCooler: false } }));
    expect(warm.of('temperature-blank').sentence).toBe('No temperature blank is owed.');
  });
});
