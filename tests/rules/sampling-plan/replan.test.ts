import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bottleOrder, isOrdered } from '../../../src/rules/sampling-plan/bottle-order.ts';
import { planChanges } from '../../../src/rules/sampling-plan/plan-changes.ts';
import { samplingPlanTold } from '../../../src/rules/sampling-plan/plan-told.ts';
import { idOf, type RoundOf, TestRound, wellName } from './plan-facts.ts';

const NAMES = ['VOC', 'SVOC', 'Metals', 'PFAS', 'Nutrients', 'Ions'];

const rounds = fc.record({
  wells: fc.integer({ min: 1, max: 25 }),
  suites: fc.uniqueArray(fc.constantFrom(...NAMES), { minLength: 1, maxLength: 6 }),
  ends: fc.constantFrom('2026-05-04', '2026-05-06'),
  laboratories: fc.constantFrom(1, 2),
  equipment: fc.constantFrom({}, { rinsatePer: 'unit-and-day' }),
  sampling: fc.constantFrom({}, { duplicatesPer: 5 }, { blindDuplicates: false }, { fieldBlanksPer: 'day' }),
});

const numbers = (round: TestRound) =>
  new Map(round.ofKind('planned-sample').map(({ id, fields }) => [id, String(fields.number)]));

const labels = (round: TestRound) => round.ofKind('container').map(({ fields }) => String(fields.label));

function changesNow(round: TestRound): number {
  const facts = round.facts();
  return planChanges(round.propose(), facts, () => 0.5).flat().length;
}

function planned(given: RoundOf): TestRound {
  const round = new TestRound(given);
  round.plan();
  return round;
}

describe('numbers and labels', () => {
  it('no number and no label is given twice, and no two numbers are neighbours', () => {
    fc.assert(
      fc.property(rounds, (given) => {
        const round = planned(given);
        const all = [...numbers(round).values()];
        expect(new Set(all).size).toBe(all.length);
        expect(new Set(labels(round)).size).toBe(labels(round).length);
        const digits = all.map((number) => Number(number.slice(5))).toSorted((a, b) => a - b);
        expect(digits.every((one, at) => at === 0 || one - (digits[at - 1] ?? 0) > 1)).toBe(true);
      }),
      { numRuns: 40 },
    );
  });

  it('a blind duplicate has a number and labels of the form of any other, and says neither parent nor time', () => {
    const round = planned({ wells: 30, suites: ['VOC', 'Metals'] });
    const blind = round.planned('blind-duplicate');
    expect(blind).toHaveLength(3);
    for (const { id, fields } of [...blind, ...round.planned('normal')]) {
      expect(fields.number).toMatch(/^2605-\d{5}$/);
      expect([fields.laboratoryTime, fields.laboratoryNumber, fields.remark]).toEqual([
        undefined,
        undefined,
        undefined,
      ]);
      const its = round.containersOf(id).map((one) => String(one.fields.label));
      expect(its.toSorted()).toEqual([1, 2, 3, 4].map((place) => `${fields.number}-${place}`));
    }
  });

  it('a guesser who sorts by number pairs blind duplicates with their parents no better than by chance', () => {
    let [hits, guesses] = [0, 0];
    for (let seed = 1; seed <= 60; seed += 1) {
      const round = new TestRound({ wells: 20 }, seed);
      round.plan();
      const all = [...round.planned('normal'), ...round.planned('blind-duplicate')];
      const sorted = all.toSorted((a, b) => (String(a.fields.number) < String(b.fields.number) ? -1 : 1));
      for (const [at, one] of sorted.entries()) {
        if (one.fields.type !== 'blind-duplicate') continue;
        guesses += 1;
        if (sorted[at - 1]?.id === one.fields.of) hits += 1;
      }
    }
    // one of 21 others by chance: of 120 guesses 5.7, with a standard deviation of 2.3
    expect(guesses).toBe(120);
    expect(hits).toBeLessThanOrEqual(13);
  });

  it('is never given again: neither that of a dropped nor that of a voided sample', () => {
    const round = planned({ wells: 6 });
    const before = new Set(numbers(round).values());
    for (const { id } of round.planned('normal').slice(0, 2)) round.void(id);
    round.dropWell(6);
    round.plan();
    round.well(7, ['VOC']);
    round.plan();
    const all = [...round.states.values()].filter(({ kind }) => kind === 'planned-sample');
    const fresh = all.filter(({ fields }) => !before.has(String(fields.number)));
    expect(new Set(all.map(({ fields }) => fields.number)).size).toBe(all.length);
    expect(fresh.length).toBeGreaterThanOrEqual(3);
    expect(round.planned('normal')).toHaveLength(6);
  });
});

describe('planned again', () => {
  it('changes nothing where nothing has changed', () => {
    fc.assert(
      fc.property(rounds, (given) => {
        const round = planned(given);
        expect(changesNow(round)).toBe(0);
        expect(samplingPlanTold(round.propose(), round.facts()).isWritten).toBe(true);
      }),
      { numRuns: 40 },
    );
  });

  it('renumbers nothing whatever wells drop out, drops what no longer applies with a reason, and then changes nothing', () => {
    fc.assert(
      fc.property(rounds, fc.infiniteStream(fc.boolean()), (given, drops) => {
        const round = planned(given);
        const before = numbers(round);
        const out = Array.from({ length: given.wells - 1 }, (_, at) => at + 1).filter(() => drops.next().value);
        for (const at of out) round.dropWell(at);
        round.plan();
        const after = numbers(round);
        for (const [id, number] of before) expect(after.get(id)).toBe(number);
        const dropped = new Set(out.map((at) => idOf(wellName(at))));
        for (const { fields } of round.planned('normal')) expect(dropped.has(String(fields.well))).toBe(false);
        expect(round.planned('normal')).toHaveLength(given.wells - out.length);
        for (const { id, fields } of round.planned(undefined, 'dropped')) {
          expect(fields.droppedBecause).toMatch(/^By the plan: /);
          expect(round.containersOf(id).every((one) => one.fields.standing === 'dropped')).toBe(true);
        }
        expect(changesNow(round)).toBe(0);
      }),
      { numRuns: 40 },
    );
  });

  it('takes up the sample and the labels of a well that comes back', () => {
    const round = planned({ wells: 5, suites: ['VOC', 'Metals'] });
    const before = [numbers(round), labels(round).toSorted()];
    round.dropWell(2);
    round.plan();
    round.well(2, ['VOC', 'Metals'], 1);
    round.plan();
    expect(round.planned('normal')).toHaveLength(5);
    const [again, texts] = [numbers(round), new Set(labels(round))];
    for (const [id, number] of before[0] as Map<string, string>) expect(again.get(id)).toBe(number);
    for (const text of before[1] as string[]) expect(texts.has(text)).toBe(true);
    expect(changesNow(round)).toBe(0);
  });

  const goesOn = (given: Parameters<typeof planned>[0], cut: number) => {
    const round = new TestRound(given);
    for (let turn = 0; turn < 40 && changesNow(round) > 0; turn += 1) round.plan(cut);
    expect(changesNow(round)).toBe(0);
    // by which well a duplicate or a spike goes depends on what stands beside it already: how many do not
    const shape = (one: TestRound) =>
      one
        .planned()
        .map(({ id, fields }) => {
          const at = fields.of === undefined ? id : '';
          return JSON.stringify([at, fields.type, fields.suites, one.containersOf(id).length]);
        })
        .toSorted();
    expect(shape(round)).toEqual(shape(planned(given)));
  };

  it('goes on where it was cut short, and plans nothing twice', () => {
    fc.assert(fc.property(rounds, fc.integer({ min: 4, max: 30 }), goesOn), { numRuns: 12 });
  });

  it('goes on where it was cut in the middle of its QC samples, with the rest of them at other wells', () => {
    goesOn({ wells: 22, suites: ['VOC'], ends: '2026-05-04', laboratories: 1, sampling: { duplicatesPer: 5 } }, 5);
  });

  it('leaves what was taken as it is, also at a well that dropped out', () => {
    const round = planned({ wells: 12 });
    round.sample(1);
    const sampled = round.planned('normal').find(({ fields }) => fields.well === idOf('W-001'));
    round.dropWell(1);
    round.dropWell(2);
    round.plan();
    expect(round.states.get(sampled?.id ?? '')?.fields.standing).toBe('planned');
    expect(round.planned('normal')).toHaveLength(11);
    // ten are left and one was taken: two duplicates
    expect(round.planned('blind-duplicate')).toHaveLength(2);
  });

  it('leaves what a person dropped, and says how to take it up', () => {
    const round = planned({ wells: 3 });
    const [first] = round.planned('normal');
    round.amend(first?.id ?? '', { standing: 'dropped', droppedBecause: 'the owner says no' });
    const { notes } = round.plan();
    expect(round.states.get(first?.id ?? '')?.fields.droppedBecause).toBe('the owner says no');
    expect(notes.join()).toContain('somebody dropped its sample');
    expect(round.planned('normal')).toHaveLength(2);
  });

  it('counts what a person planned, and gives it containers', () => {
    const round = new TestRound({ wells: 2 });
    const own = {
      event: round.event,
      number: 'GW-017',
      type: 'normal',
      well: idOf('W-001'),
      suites: ['VOC'],
      standing: 'planned',
    };
    round.put('planned-sample', idOf('own'), own);
    round.plan();
    expect(round.planned('normal')).toHaveLength(2);
    expect(round.containersOf(idOf('own')).map(({ fields }) => fields.label)).toEqual([
      'GW-017-1',
      'GW-017-2',
      'GW-017-3',
    ]);
    expect(changesNow(round)).toBe(0);
  });

  it('moves a duplicate that was not taken with its sample to another well', () => {
    const round = planned({ wells: 11 });
    const [one] = round.planned('blind-duplicate');
    const at = Number(
      round
        .ofKind('well')
        .find(({ id }) => id === one?.fields.well)
        ?.fields.name?.toString()
        .slice(2),
    );
    round.sample(at);
    round.plan();
    expect(round.states.get(one?.id ?? '')?.fields).toMatchObject({
      standing: 'dropped',
      droppedBecause: 'By the plan: its sample was taken without it',
    });
    expect(round.planned('blind-duplicate')).toHaveLength(2);
  });

  it('drops a sample at a well that was left without one', () => {
    const round = planned({ wells: 2 });
    const visit = { event: round.event, well: idOf('W-001'), crew: idOf('crew-1'), method: 'low-flow', outcome: 'dry' };
    round.put('visit', idOf('dry visit'), {
      ...visit,
      arrived: '2026-05-04T09:00:00-05:00',
      left: '2026-05-04T09:30:00-05:00',
    });
    round.plan();
    expect(round.planned('normal', 'dropped').map(({ fields }) => fields.droppedBecause)).toEqual([
      'By the plan: W-001: it was left without a sample: dry; Crew 1, 2026-05-04 09:30',
    ]);
  });

  it('changes the containers with the suite, but none that is filled', () => {
    const round = planned({ wells: 2, suites: ['VOC', 'Ions'] });
    const [first] = round.planned('normal');
    const filled = round.containersOf(first?.id ?? '').find(({ fields }) => fields.group === 'volatiles');
    const [vial, ...others] = round.containersOf(first?.id ?? '');
    expect([filled?.id, others.length]).toEqual([vial?.id, 3]);
    const otherwise = { reason: 'Permit', approvedBy: 'Cleo' };
    round.amend(idOf('suite VOC'), { groups: [{ group: 'volatiles', containers: 2, ...otherwise }] });
    round.plan();
    const standings = round.containersOf(first?.id ?? '').map(({ fields }) => fields.standing);
    expect(standings).toEqual(['expected', 'expected', 'dropped', 'expected']);
    round.amend(vial?.id ?? '', { standing: 'filled', sample: round.sample(1) });
    round.amend(idOf('suite VOC'), { groups: [{ group: 'volatiles', containers: 1, ...otherwise }] });
    round.plan();
    expect(round.containersOf(first?.id ?? '').map(({ fields }) => fields.standing)).toEqual(
      first?.fields.well === idOf('W-001')
        ? ['filled', 'expected', 'dropped', 'expected']
        : ['filled', 'dropped', 'dropped', 'expected'],
    );
  });
});

describe('the bottle order', () => {
  it('is the sum of the containers, for each laboratory, container, preservative and volume', () => {
    fc.assert(
      fc.property(rounds, (given) => {
        const round = planned(given);
        const { samples } = round.propose();
        const lines = bottleOrder(samples);
        const expected = round
          .ofKind('container')
          .filter(({ fields }) => isOrdered({ standing: fields.standing as 'expected' }));
        expect(lines.reduce((sum, line) => sum + line.count, 0)).toBe(expected.length);
        const ml = (line: { volumeMl: string; count: number }) => Number(line.volumeMl) * line.count;
        const total = expected.reduce((sum, { fields }) => sum + Number(fields.volumeMl), 0);
        expect(lines.reduce((sum, line) => sum + ml(line), 0)).toBe(total);
        for (const { count, spare } of lines) expect(spare).toBe(Math.ceil(count / 10));
      }),
      { numRuns: 25 },
    );
  });
});

describe('a large event', () => {
  it('of 200 wells and 6 suites is planned, and nothing changes when it is planned again', () => {
    const round = new TestRound({
      wells: 200,
      suites: NAMES,
      ends: '2026-05-08',
      equipment: { rinsatePer: 'unit-and-day' },
    });
    const facts = round.facts();
    const proposal = round.propose();
    const changes = planChanges(proposal, facts, Math.random).flat();
    round.plan();
    expect(changesNow(round)).toBe(0);
    expect(changes.length).toBeGreaterThan(2_500);
    expect(round.planned('blind-duplicate')).toHaveLength(20);
    expect(round.planned('matrix-spike')).toHaveLength(10);
  });
});
