import { describe, expect, it } from 'vitest';
import { owedQcTold } from '../../../src/rules/sampling-plan/owed-qc-told.ts';
import { planChanges } from '../../../src/rules/sampling-plan/plan-changes.ts';
import { samplingPlanTold } from '../../../src/rules/sampling-plan/plan-told.ts';
import { idOf, type RoundOf, TestRound, wellName } from './plan-facts.ts';

function planned(given: RoundOf): TestRound {
  const round = new TestRound(given);
  round.plan();
  return round;
}

function left(round: TestRound, well: string, outcome: string, more: object = {}): void {
  const visit = { event: round.event, well, crew: idOf('crew-1'), method: 'low-flow', outcome };
  const times = { arrived: '2026-05-04T09:00:00-05:00', left: '2026-05-04T09:30:00-05:00' };
  round.put('visit', idOf(`left ${well} ${outcome}`), { ...visit, ...times, ...more });
}

function told(round: TestRound) {
  return samplingPlanTold(round.propose(), round.facts());
}

function changesNow(round: TestRound): number {
  return planChanges(round.propose(), round.facts(), () => 0.5).flat().length;
}

function wellOf(round: TestRound, type: string): string {
  return String(round.planned(type)[0]?.fields.well);
}

describe('a well that was left without a sample', () => {
  it('is named with how, who and when, what it drops, and the spike that is owed elsewhere, before and after writing', () => {
    const round = planned({ wells: 6 });
    const at = wellOf(round, 'matrix-spike');
    const spike = round.planned('matrix-spike')[0];
    const normal = round.planned('normal').find(({ fields }) => fields.well === at);
    left(round, at, 'dry', { outcomeReason: 'no water in 30 ft' });
    const before = told(round).notSampled;
    expect(before).toMatchObject([
      {
        well: at,
        visit: idOf(`left ${at} dry`),
        crewName: 'Crew 1',
        outcome: 'dry',
        outcomeReason: 'no water in 30 ft',
        left: '2026-05-04T09:30:00-05:00',
        after: 'out',
        dropped: [
          { planned: normal?.id, number: normal?.fields.number, type: 'normal', containers: 3 },
          { planned: spike?.id, number: spike?.fields.number, type: 'matrix-spike', suites: ['VOC'] },
        ],
        owedAnew: [{ type: 'matrix-spike', number: spike?.fields.number, suites: ['VOC'], lacking: [] }],
      },
    ]);
    const elsewhere = before[0]?.owedAnew[0]?.plannedAt;
    expect(elsewhere).toHaveLength(1);
    expect(elsewhere?.[0]?.well).not.toBe(at);
    expect(before[0]?.sentence).toContain('dry (no water in 30 ft); Crew 1, 2026-05-04 09:30: nothing is taken');
    expect(before[0]?.sentence).toContain(`it is owed at ${elsewhere?.[0]?.wellName} now.`);
    round.plan();
    const after = told(round).notSampled;
    expect(after[0]?.owedAnew[0]?.plannedAt).toMatchObject([{ planned: elsewhere?.[0]?.planned }]);
    expect(after[0]?.dropped.map(({ planned: id }) => id)).toEqual([normal?.id, spike?.id]);
    expect(after[0]?.dropped[1]?.because).toContain('dry (no water in 30 ft); Crew 1');
    expect(changesNow(round)).toBe(0);
  });

  it('owes a duplicate anew in words where no well is left for it', () => {
    const round = planned({ wells: 2 });
    const at = wellOf(round, 'blind-duplicate');
    for (const one of [1, 2]) if (idOf(wellName(one)) !== at) round.sample(one);
    left(round, at, 'obstructed');
    const [one] = told(round).notSampled;
    const owed = one?.owedAnew.find(({ type }) => type === 'blind-duplicate');
    expect(owed).toMatchObject({ lacking: ['VOC'], plannedAt: [] });
    expect(one?.sentence).toContain('one of VOC is owed anew, and no further well that is left suits.');
  });

  it('keeps its sample where the water comes back, and asks nothing more of it: spike and duplicate go elsewhere', () => {
    const round = planned({ wells: 6 });
    for (const type of ['matrix-spike', 'blind-duplicate']) left(round, wellOf(round, type), 'purged-dry');
    const at = [wellOf(round, 'matrix-spike'), wellOf(round, 'blind-duplicate')];
    round.plan();
    expect(round.planned('normal')).toHaveLength(6);
    expect(round.planned('normal', 'dropped')).toHaveLength(0);
    expect(at).not.toContain(wellOf(round, 'matrix-spike'));
    expect(at).not.toContain(wellOf(round, 'blind-duplicate'));
    const { notSampled } = told(round);
    expect(notSampled.map(({ after }) => after)).toEqual(['after-recovery', 'after-recovery']);
    expect(notSampled.flatMap(({ dropped }) => dropped.map(({ type }) => type)).toSorted()).toEqual([
      'blind-duplicate',
      'matrix-spike',
    ]);
    expect(notSampled[0]?.sentence).toContain('as the water may come back');
    expect(changesNow(round)).toBe(0);
    const { wells } = owedQcTold(round.facts(), { day: '2026-05-04' });
    const there = wells.filter(({ well }) => at.includes(well));
    expect(there.length).toBeGreaterThan(0);
    expect(new Set(there.map(({ suits }) => suits))).toEqual(new Set(['no']));
  });

  it.each([
    ['purged-dry', 'after-recovery'],
    ['insufficient-water', 'after-recovery'],
    ['dry', 'out'],
    ['obstructed', 'out'],
    ['no-access', 'another-visit'],
  ])('is told after %s: %s', (outcome, after) => {
    const round = planned({ wells: 2 });
    left(round, idOf('W-001'), outcome);
    expect(told(round).notSampled).toMatchObject([{ name: 'W-001', outcome, after }]);
    const isOut = round.propose().samples.some(({ standing, type }) => standing === 'dropped' && type === 'normal');
    expect(isOut).toBe(after === 'out');
  });

  it('is not left while a crew is there again, though it has taken nothing yet', () => {
    const round = planned({ wells: 2 });
    left(round, idOf('W-001'), 'dry');
    const visit = { event: round.event, well: idOf('W-001'), crew: idOf('crew-2'), method: 'low-flow' };
    round.put('visit', idOf('again'), { ...visit, arrived: '2026-05-04T14:00:00-05:00' });
    expect([told(round).notSampled, changesNow(round)]).toEqual([[], 0]);
  });

  it('has its spike told at the well where one is still to be taken, and not where one was', () => {
    const round = planned({ wells: 22, sampling: { msMsdPer: 11 } });
    const [first, second] = round.planned('matrix-spike').map(({ fields }) => String(fields.well));
    const at = (well: string | undefined) =>
      Array.from({ length: 22 }, (_, one) => one + 1).find((one) => idOf(wellName(one)) === well) ?? 0;
    round.sample(at(second));
    round.sample(at(second), { type: 'matrix-spike' });
    left(round, String(first), 'dry');
    const owed = told(round).notSampled[0]?.owedAnew.find(({ type }) => type === 'matrix-spike');
    expect(owed?.plannedAt.length).toBeGreaterThan(0);
    expect(owed?.plannedAt.map(({ well }) => well)).not.toContain(second);
  });

  it('drops out of an event that is closed, though the water might have come back', () => {
    const round = planned({ wells: 2 });
    left(round, idOf('W-001'), 'purged-dry');
    round.amend(round.event, { standing: 'closed' });
    const [one] = told(round).notSampled;
    expect([one?.after, one?.dropped.map(({ type }) => type)]).toEqual(['out', expect.arrayContaining(['normal'])]);
  });

  it('stays planned where nobody came as far as the water, and is named all the same', () => {
    const round = planned({ wells: 2 });
    left(round, idOf('W-001'), 'no-access', { outcomeReason: 'gate locked' });
    expect(changesNow(round)).toBe(0);
    expect(told(round).notSampled).toMatchObject([
      { name: 'W-001', after: 'another-visit', dropped: [], owedAnew: [] },
    ]);
  });

  it('is named no more once a crew is there again, or its sample was taken', () => {
    const round = planned({ wells: 2 });
    left(round, idOf('W-001'), 'dry');
    round.plan();
    round.sample(1, {}, false);
    round.plan();
    expect(told(round).notSampled).toEqual([]);
    expect(round.planned('normal')).toHaveLength(2);
  });

  it.each(['matrix-spike', 'blind-duplicate'])(
    'has its %s back that a crew took before it heard of the plan',
    (type) => {
      for (const isWrittenBetween of [true, false]) {
        const round = planned({ wells: 6 });
        const [one] = round.planned(type);
        const well = wellOf(round, type);
        const normal = round.planned('normal').find(({ fields }) => fields.well === well);
        left(round, well, 'purged-dry');
        if (isWrittenBetween) round.plan();
        expect(round.planned(type)[0]?.id === one?.id).toBe(!isWrittenBetween);
        const times = { arrived: '2026-05-04T15:00:00-05:00', left: '2026-05-04T16:00:00-05:00' };
        left(round, well, 'sampled', times);
        const taken = { visit: idOf(`left ${well} sampled`), suites: ['VOC'], collected: '2026-05-04T15:30:00-05:00' };
        for (const its of [normal, one])
          round.put('sample', idOf(`taken ${its?.id}`), { ...taken, number: its?.fields.number, planned: its?.id });
        round.plan();
        expect(round.planned(type).map(({ id }) => id)).toEqual([one?.id]);
        expect(told(round).frequencies.find((its) => its.type === type)).toMatchObject({ asked: 1, planned: 1 });
        expect(changesNow(round)).toBe(0);
      }
    },
  );

  it.each(['dry', 'purged-dry'])(
    'is none where it was %s and a later visit says that it sampled: all stays planned',
    (outcome) => {
      const round = planned({ wells: 6 });
      const well = wellOf(round, 'matrix-spike');
      left(round, well, outcome);
      const times = { arrived: '2026-05-04T15:00:00-05:00', left: '2026-05-04T16:00:00-05:00' };
      left(round, well, 'sampled', times);
      expect([told(round).notSampled, changesNow(round)]).toEqual([[], 0]);
    },
  );

  it('has its bottles back where it was sampled after all, but those that are asked for no more', () => {
    const round = planned({ wells: 2 });
    const at = idOf(wellName(1));
    const its = round.planned('normal').find(({ fields }) => fields.well === at);
    const standings = () => round.containersOf(its?.id ?? '').map(({ fields }) => fields.standing);
    const [first] = round.containersOf(its?.id ?? '');
    round.amend(first?.id ?? '', {
      standing: 'dropped',
      droppedBecause: 'By the plan: its group is not asked for any more',
    });
    left(round, at, 'dry');
    round.plan();
    expect(new Set(standings())).toEqual(new Set(['dropped']));
    round.sample(1);
    round.plan();
    expect(standings()).toEqual([
      'dropped',
      ...standings()
        .slice(1)
        .map(() => 'expected'),
    ]);
    expect(standings().length).toBeGreaterThan(1);
    expect(changesNow(round)).toBe(0);
  });

  it('is judged by its last visit, and not by a round of levels', () => {
    const round = planned({ wells: 2 });
    left(round, idOf('W-001'), 'no-access', {
      arrived: '2026-05-04T14:00:00-05:00',
      left: '2026-05-04T14:05:00-05:00',
    });
    left(round, idOf('W-001'), 'dry');
    left(round, idOf('W-002'), 'gauged-only', { method: 'gauging' });
    // nobody wrote that the round of levels left
    const gauging = { event: round.event, well: idOf('W-001'), crew: idOf('crew-2'), method: 'gauging' };
    round.put('visit', idOf('levels'), { ...gauging, arrived: '2026-05-04T07:00:00-05:00' });
    expect(told(round).notSampled.map(({ name, outcome }) => [name, outcome])).toEqual([['W-001', 'no-access']]);
  });
});
