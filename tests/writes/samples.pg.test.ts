import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isLabelFlag, isSampleFlag } from '../../src/rules/derive/sample-derived.ts';
import { deriveAgain } from '../../src/writes/derive-again.ts';
import { openLane } from '../../src/writes/lane.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { statementsOf } from '../reads/statements.ts';
import { statesRead } from '../reads/states-read.ts';
import { firmOfFlags } from '../support/firm-of-flags.ts';
import { containerDraft, fillDraft, pumpedVisit, sampleDraft, sampleId } from '../support/sample-drafts.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { type Draft, TestClient } from '../support/test-firm.ts';
import { minute, readingDraft } from '../support/visit-drafts.ts';

let db: TestDatabase;
beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

const reason = 'of a test';
const METALS = {
  group: 'metals-total',
  suite: 'Metals',
  type: 'bottle',
  material: 'hdpe',
  preservatives: ['nitric-acid'],
};
const VOC = { kind: 'analyte-suite', id: sampleId('VOC'), set: { name: 'VOC', groups: [{ group: 'volatiles' }] } };

const aFirm = () => firmOfFlags(db, (held) => isSampleFlag(held) || isLabelFlag(held));

function planned({ ids }: Awaited<ReturnType<typeof aFirm>>['firm'], number: string, more: object = {}): Draft {
  const of = { event: ids.event, well: ids.lone, type: 'normal', suites: ['VOC', 'Metals'] };
  return { kind: 'planned-sample', id: sampleId(number), set: { ...of, number, standing: 'planned', ...more } };
}

/** A visit with a good sample: two vials and a bottle. */
function goodSample(firm: Awaited<ReturnType<typeof aFirm>>['firm']): Draft[] {
  return [
    ...pumpedVisit(firm, 'v1'),
    sampleDraft('v1', 'W-1', { suites: ['VOC', 'Metals'] }),
    containerDraft(firm, 'W-1-1', 'W-1'),
    containerDraft(firm, 'W-1-2', 'W-1'),
    containerDraft(firm, 'W-1-3', 'W-1', { ...METALS, volumeMl: '500' }),
    fillDraft(firm, 'W-1-1', 35, { visit: sampleId('v1') }),
    fillDraft(firm, 'W-1-2', 36),
    fillDraft(firm, 'W-1-3', 40),
  ];
}

describe('what is asked about samples', () => {
  it('is asked of a bottle that is labelled for another well, also once the plan says so only afterwards', async () => {
    const { firm, codes, flags, one, change, away } = await aFirm();
    const { event, lone, deep } = firm.ids;
    const planned = sampleId('W-301');
    const set = { event, number: 'W-301', type: 'normal', well: deep, suites: ['VOC'], standing: 'planned' };
    await one({ kind: 'planned-sample', id: planned, set }, ...goodSample(firm));
    expect(await codes()).toEqual([]);
    await one(change('container', 'W-1-1', { planned }));
    const [flag] = await flags();
    expect(flag?.fields).toMatchObject({ rule: 'container-of-other-sample', subject: sampleId('W-1-1') });
    await one(change('planned-sample', 'W-301', { well: lone }));
    expect(await codes()).toEqual([]);
    await one(change('planned-sample', 'W-301', { well: deep }, 2));
    expect(await codes()).toEqual(['container-of-other-sample']);
    await one(away('planned-sample', 'W-301', 3));
    expect(await codes()).toEqual([]);
  });

  it('[D1] is asked of a bottle that the plan alone has for a sample, in whatever order they come', async () => {
    const { firm, codes, one, change, away } = await aFirm();
    const of = { planned: sampleId('P-1'), standing: 'expected' };
    const waiting = (label: string) => containerDraft(firm, label, null, { ...METALS, ...of, volumeMl: '500' });
    await one(planned(firm, 'P-1'), waiting('W-1-4'), ...goodSample(firm));
    await one(change('visit', 'v1', { left: minute(70) }));
    expect(await codes()).toEqual([]);
    await one(change('sample', 'W-1', { planned: sampleId('P-1') }));
    expect(await codes()).toEqual(['left-unfilled']);
    await one(change('container', 'W-1-4', { standing: 'dropped', droppedBecause: 'No water', agreedBy: 'R. Ito' }));
    expect(await codes()).toEqual([]);
    // one that is labelled when all of the rest is there
    await one(waiting('W-1-5'));
    expect(await codes()).toEqual(['left-unfilled']);
    await one(fillDraft(firm, 'W-1-5', 41, { visit: sampleId('v1') }));
    expect(await codes()).toEqual(['filled-for-nothing']);
    await one(away('fill', 'W-1-5 41'));
    expect(await codes()).toEqual(['left-unfilled']);
    await one(change('container', 'W-1-5', { planned: null }));
    expect(await codes()).toEqual([]);
    await one(away('container', 'W-1-3'), away('container', 'W-1-4', 2));
    expect(await codes()).toEqual(['suite-without-container']);
    await one(change('container', 'W-1-5', { planned: sampleId('P-1') }, 2));
    expect(await codes()).toEqual(['left-unfilled']);
  });

  it('[D13] is asked of what the plan alone calls a spike, also once the plan says so only afterwards', async () => {
    const { firm, codes, one, change } = await aFirm();
    await one(planned(firm, 'P-1'), ...goodSample(firm), change('sample', 'W-1', { planned: sampleId('P-1') }));
    expect(await codes()).toEqual([]);
    await one(change('planned-sample', 'P-1', { type: 'matrix-spike' }));
    expect(await codes()).toEqual(['qc-sample-without-parent']);
    await one(change('planned-sample', 'P-1', { type: 'normal' }, 2));
    expect(await codes()).toEqual([]);
  });

  it('[D1] is nothing of a good one; what is wrong is asked, and no longer once it is corrected or voided', async () => {
    const { firm, codes, flags, one, change, away } = await aFirm();
    await one(...goodSample(firm));
    expect(await codes()).toEqual([]);
    await one(change('fill', 'W-1-1 35', { bubble: true }));
    const [flag] = await flags();
    const about = { subjectKind: 'container', subject: sampleId('W-1-1'), visit: sampleId('v1'), addressee: 'tonight' };
    expect(flag?.fields).toMatchObject({ rule: 'bubble-in-container', standing: 'raised', ...about });
    await one(fillDraft(firm, 'W-1-1', 50, { bubble: false }));
    expect(await codes()).toEqual(['filled-again-with-preservative']);
    await one(away('fill', 'W-1-1 50'));
    expect(await codes()).toEqual(['bubble-in-container']);
    await one(change('container', 'W-1-1', { standing: 'discarded' }));
    expect(await codes()).toEqual([]);
    await one(change('container', 'W-1-2', { standing: 'discarded' }));
    expect(await codes()).toEqual(['too-few-containers']);
    await one(away('container', 'W-1-1', 2), away('container', 'W-1-2', 2));
    expect(await codes()).toEqual(['suite-without-container']);
    await one(away('sample', 'W-1'));
    expect(await codes()).toEqual([]);
  });

  it('[D1] follows the purge, the call and the visit that bear on it', async () => {
    const { firm, codes, one, change, away } = await aFirm();
    await one(...goodSample(firm), fillDraft(firm, 'W-1-3', 45, { filtered: true, preserved: true }));
    expect(await codes()).toEqual(['filtered-but-must-not']);
    await one(change('purge', 'v1 purge', { began: minute(38) }));
    expect(await codes()).toEqual(['filled-before-purge', 'filtered-but-must-not']);
    await one(change('purge', 'v1 purge', { began: minute(0) }, 2), away('fill', 'W-1-3 45'));
    expect(await codes()).toEqual([]);
    await one(change('call', 'v1 call', { observed: firm.observed(minute(39)) }));
    // the sample itself is before the call: the visit is asked, and not each of its containers
    expect(await codes()).toEqual([]);
    await one(change('sample', 'W-1', { collected: minute(40) }));
    expect(await codes()).toEqual(['filled-before-call', 'filled-before-sample']);
    await one(change('visit', 'v1', { method: 'passive' }));
    expect(await codes()).toEqual(['filled-before-sample']);
    await one(away('visit', 'v1', 2));
    expect(await codes()).toEqual([]);
  });

  it('[D9] of a container that is of another sample by now goes with it, as of one that moves with its visit', async () => {
    const { firm, codes, flags, one, change } = await aFirm();
    await one(...goodSample(firm), change('fill', 'W-1-2 36', { cellOff: false }));
    expect((await flags()).map(({ fields }) => fields.subject)).toEqual([sampleId('W-1')]);
    await one(...pumpedVisit(firm, 'v2', { well: firm.ids.deep }), sampleDraft('v2', 'W-2'));
    expect(await codes()).toEqual(['filled-with-cell-on']);
    await one(change('container', 'W-1-2', { sample: sampleId('W-2') }));
    expect((await flags()).map(({ fields }) => [fields.rule, fields.subject])).toEqual([
      ['filled-with-cell-on', sampleId('W-2')],
    ]);
    const move = { well: firm.ids.shallow };
    await one({ verb: 'rehome', kind: 'visit', id: sampleId('v2'), base: { rev: 1 }, set: move, reason });
    expect((await flags()).map(({ fields }) => fields.well)).toEqual([firm.ids.shallow]);
  });

  it('[D13] follows what the suite and the plan ask for', async () => {
    const { world, firm, codes, one, change } = await aFirm();
    await one(...goodSample(firm), change('fill', 'W-1-1 35', { flowMlPerMin: '140' }), VOC);
    expect(await codes()).toEqual(['filled-too-fast']);
    const [event] = (await world.told('event')).filter(({ id }) => id === firm.ids.event);
    const plan = { ...(event?.fields.plan as object), sampling: { fillRateMlPerMin: { volatiles: '150' } } };
    const amend = {
      kind: 'event',
      verb: 'amend',
      id: firm.ids.event,
      base: { rev: event?.rev },
      set: { plan },
      reason,
    };
    await one(amend);
    expect(await codes()).toEqual([]);
    const other = { preservatives: [], reason: 'Carbonate water', approvedBy: 'R. Ito' };
    await one(change('analyte-suite', 'VOC', { groups: [{ group: 'volatiles', ...other }] }));
    expect(await codes()).toEqual(['wrong-preservative', 'wrong-preservative']);
    await one(change('analyte-suite', 'VOC', { name: 'Volatiles' }, 2));
    expect(await codes()).toEqual([]);
  });

  it('[D13] follows what another suite asks of a bottle that serves it too', async () => {
    const { firm, codes, one, change } = await aFirm();
    const dissolved = { name: 'Dissolved', groups: [{ group: 'metals-dissolved' }] };
    const bottle = { ...METALS, group: 'hardness', alsoGroups: ['metals-dissolved'], volumeMl: '500' };
    await one(
      { kind: 'analyte-suite', id: sampleId('Dissolved'), set: dissolved },
      ...pumpedVisit(firm, 'v1'),
      sampleDraft('v1', 'W-1', { suites: ['Metals', 'Dissolved'] }),
      containerDraft(firm, 'W-1-1', 'W-1', bottle),
      fillDraft(firm, 'W-1-1', 35, { filtered: false }),
    );
    expect(await codes()).toContain('not-filtered');
    await one(change('analyte-suite', 'Dissolved', { groups: [{ group: 'metals-dissolved', filtered: false }] }));
    expect(await codes()).not.toContain('not-filtered');
  });

  it('[D13] tells a label that two crews used, until one of the two is another', async () => {
    const { world, firm, flags, one, change } = await aFirm();
    await one(...goodSample(firm));
    const other = {
      ...containerDraft(firm, 'W-1-3', null, { standing: 'expected' }),
      id: sampleId('other'),
    };
    await world.clients[1]?.push(other);
    expect((await flags()).map(({ fields }) => [fields.rule, fields.subject])).toEqual([
      ['label-twice', firm.ids.event],
    ]);
    await one(change('container', 'other', { label: 'W-9-1' }));
    expect(await flags()).toEqual([]);
    await one(
      change('container', 'other', { label: 'W-1-3' }, 2),
      change('container', 'W-1-3', { standing: 'discarded' }),
    );
    expect((await flags()).map(({ fields }) => fields.rule)).toEqual(['too-few-containers']);
  });

  it('[D9] of a container of no sample is asked by itself', async () => {
    const { firm, codes, one, change } = await aFirm();
    await one(containerDraft(firm, 'X-1', null), fillDraft(firm, 'X-1', 10, { bubble: true }));
    expect(await codes()).toEqual(['bubble-in-container', 'filled-for-nothing']);
    await one(
      ...pumpedVisit(firm, 'v1'),
      sampleDraft('v1', 'W-1'),
      change('container', 'X-1', { sample: sampleId('W-1') }),
    );
    expect(await codes()).toContain('filled-before-sample');
    expect(await codes()).not.toContain('filled-for-nothing');
  });

  it('[D9] stays reviewed while it rests on the same', async () => {
    const { world, firm, flags, one, change } = await aFirm();
    await one(...goodSample(firm), change('fill', 'W-1-1 35', { bubble: true }));
    const [flag] = await flags();
    const hash = flag?.fields.evidenceHash;
    const set = { flag: flag?.id, evidenceHash: hash, decision: 'no-action', observed: firm.observed(minute(60)) };
    await one({ kind: 'flag-review', id: v7(), set });
    expect((await flags())[0]?.fields.standing).toBe('reviewed');
    await one(fillDraft(firm, 'W-1-2', 60, { preserved: true }));
    expect((await flags()).map(({ fields }) => fields.standing)).toEqual(['reviewed']);
    await one(fillDraft(firm, 'W-1-1', 70, { bubble: true, preserved: true }));
    expect((await flags()).map(({ fields }) => fields.standing)).toEqual(['raised']);
    expect([...(await deriveAgain(db.pool, world.firm.id, () => new Date()))]).toEqual([]);
  });
});

it('[D13] looks up nothing for what touches no sample, though the visit has some, and what bears on them for a fill', async () => {
  const { world, firm } = await aFirm();
  await world.push(goodSample(firm));
  const lookUps = async (draft: Draft) => {
    const { sent } = await statementsOf(() => world.push([draft]));
    return sent.filter((text) => /from (container|analyte_suite) where/.test(text)).length;
  };
  expect(await lookUps(readingDraft(firm, sampleId('v1 purge'), 25))).toBe(0);
  expect(await lookUps(fillDraft(firm, 'W-1-1', 41))).toBe(2);
});

it('[D13] follows what a suite of the sample asks of a bottle that says no suite or another one', async () => {
  const { firm, codes, one, change } = await aFirm();
  const bottle = { ...METALS, group: 'metals-dissolved', volumeMl: '500' };
  await one(
    { kind: 'analyte-suite', id: sampleId('Dissolved'), set: { name: 'Dissolved', groups: [{ group: 'nitrate' }] } },
    planned(firm, 'P-1'),
    ...pumpedVisit(firm, 'v1'),
    sampleDraft('v1', 'W-1', { suites: ['Metals', 'Dissolved'], planned: sampleId('P-1') }),
    containerDraft(firm, 'W-1-1', 'W-1', { ...bottle, suite: null }),
    containerDraft(firm, 'W-1-2', 'W-1', bottle),
    fillDraft(firm, 'W-1-1', 35, { filtered: false }),
    fillDraft(firm, 'W-1-2', 36, { filtered: false }),
  );
  const notFiltered = async () => (await codes()).filter((code) => code === 'not-filtered').length;
  expect(await notFiltered()).toBe(2);
  const unfiltered = [{ group: 'nitrate' }, { group: 'metals-dissolved', filtered: false }];
  await one(change('analyte-suite', 'Dissolved', { groups: unfiltered }));
  expect(await notFiltered()).toBe(0);
  await one(change('analyte-suite', 'Dissolved', { name: 'Others' }, 2));
  expect(await notFiltered()).toBe(2);
});

it('[D13] reads for a suite what serves the group that is asked otherwise, and nothing of it twice', async () => {
  const { firm, one, change } = await aFirm();
  const both = (groups: object[]) => ({ name: 'Both', groups });
  const nitrate = { ...METALS, group: 'nitrate', suite: 'Both', preservatives: [], volumeMl: '500' };
  await one(
    { kind: 'analyte-suite', id: sampleId('Both'), set: both([{ group: 'volatiles' }, { group: 'nitrate' }]) },
    ...['v1', 'v2'].flatMap((visit) => pumpedVisit(firm, visit)),
    ...['v1', 'v2'].map((visit) => sampleDraft(visit, `W-${visit}`, { suites: ['Both'] })),
    containerDraft(firm, 'W-v1-1', 'W-v1', { suite: 'Both' }),
    containerDraft(firm, 'W-v1-2', 'W-v1', nitrate),
    containerDraft(firm, 'W-v2-1', 'W-v2', nitrate),
    fillDraft(firm, 'W-v2-1', 36),
  );
  const groups = [{ group: 'volatiles', containers: 2, reason: 'Small vials', approvedBy: 'R.' }, { group: 'nitrate' }];
  // another process, that remembers nothing
  const lane = openLane({ pool: db.pool, now: () => new Date(firm.nowMs), committed: () => undefined });
  const office = new TestClient(await firm.actor('admin'), lane);
  const read = await statesRead(() => office.push(change('analyte-suite', 'Both', { groups })));
  expect(read.filter((id) => [sampleId('W-v2'), sampleId('W-v2-1')].includes(id))).toEqual([]);
  const ofVisit = read.filter((id) => [sampleId('W-v1'), sampleId('W-v1-1'), sampleId('W-v1-2')].includes(id));
  expect(ofVisit).toHaveLength(3);
  expect(await recompute(db.pool, firm.id)).toEqual([]);
});

describe('flags about samples', () => {
  /** Two visits with much that is wrong, a blank's container and labels twice. */
  function wrong(firm: Awaited<ReturnType<typeof aFirm>>['firm']): Draft[] {
    return [
      VOC,
      ...goodSample(firm),
      ...pumpedVisit(firm, 'v2', { well: firm.ids.deep }),
      planned(firm, 'P-2', { well: firm.ids.deep }),
      sampleDraft('v2', 'W-2', { type: 'duplicate', planned: sampleId('P-2') }),
      containerDraft(firm, 'W-2-9', null, { planned: sampleId('P-2'), standing: 'expected' }),
      containerDraft(firm, 'W-2-1', 'W-2', { preservatives: ['nitric-acid'] }),
      containerDraft(firm, 'W-2-2', 'W-2', { standing: 'dropped' }),
      { ...containerDraft(firm, 'W-1-1', 'W-2', { ...METALS, volumeMl: '100' }), id: sampleId('same label') },
      { ...fillDraft(firm, 'W-2-1', 200, { cellOff: false }), id: sampleId('first') },
      { ...fillDraft(firm, 'W-2-1', 210, { bubble: true, flowMlPerMin: '300' }), id: sampleId('second') },
      { ...fillDraft(firm, 'x', 20, { container: sampleId('same label') }), id: sampleId('third') },
      containerDraft(firm, 'X-1', null),
      { verb: 'void', kind: 'fill', id: sampleId('W-1-2 36'), base: { rev: 1 }, reason },
    ];
  }

  it.each([1, 2, 3, 4, 5, 6])('[D13] are the same in whatever order the records come (seed %i)', async (seed) => {
    const [inOrder, mixed] = [await aFirm(), await aFirm()];
    await inOrder.world.push(wrong(inOrder.firm));
    await mixed.world.pushMixed(wrong(mixed.firm), seed);
    const plain = async ({ flags, firm }: Awaited<ReturnType<typeof aFirm>>) => {
      const own = new Map(Object.entries(firm.ids).map(([name, id]) => [id, name]));
      const text = JSON.stringify((await flags()).map(({ fields: { evidenceHash: _, ...rest } }) => rest));
      return (JSON.parse([...own].reduce((all, [id, name]) => all.replaceAll(id, name), text)) as { rule: string }[])
        .map((one) => JSON.stringify(one))
        .toSorted();
    };
    expect(await plain(mixed)).toEqual(await plain(inOrder));
    expect((await inOrder.codes()).length).toBeGreaterThan(8);
    expect(await recompute(db.pool, mixed.firm.id)).toEqual([]);
    expect([...(await deriveAgain(db.pool, mixed.firm.id, () => new Date()))]).toEqual([]);
  });
});
