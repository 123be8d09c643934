import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isCustodyFlag } from '../../src/rules/derive/custody-derived.ts';
import { deriveAgain } from '../../src/writes/derive-again.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { checkDraft, coolerDraft, handDraft, receiptDraft, sealDraft } from '../support/cooler-drafts.ts';
import { firmOfFlags } from '../support/firm-of-flags.ts';
import { containerDraft, fillDraft, pumpedVisit, sampleDraft, sampleId } from '../support/sample-drafts.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import type { Draft, TestFirm } from '../support/test-firm.ts';
import { minute } from '../support/visit-drafts.ts';

let db: TestDatabase;
beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

const reason = 'of a test';
const packed = { packed: minute(400), ice: '3 bags of water ice' };
/** The next morning. */
const MORNING = 24 * 60;

const aFirm = () => firmOfFlags(db, isCustodyFlag);

const inside = (cooler: string) => ({ cooler: sampleId(cooler) });

function tripBlank(firm: TestFirm, cooler: string): Draft[] {
  const set = { event: firm.ids.event, type: 'trip', number: 'TB-1', collected: minute(-600), suites: ['VOC'] };
  const blank = { kind: 'blank', id: sampleId('TB-1'), set };
  const vial = containerDraft(firm, 'TB-1-1', null, { blank: sampleId('TB-1'), ...inside(cooler) });
  return [blank, vial, fillDraft(firm, 'TB-1-1', -600)];
}

/** A sample of two vials in a cooler with all that belongs in it, which a colleague drove to the laboratory. */
function goodCooler(firm: TestFirm): Draft[] {
  const blank = { event: firm.ids.event, type: 'temperature', number: 'T-1', collected: minute(0), suites: [] };
  return [
    ...pumpedVisit(firm, 'v1'),
    sampleDraft('v1', 'W-1'),
    coolerDraft(firm, 'C-1', packed),
    containerDraft(firm, 'W-1-1', 'W-1', inside('C-1')),
    containerDraft(firm, 'W-1-2', 'W-1', inside('C-1')),
    fillDraft(firm, 'W-1-1', 35),
    fillDraft(firm, 'W-1-2', 36),
    ...tripBlank(firm, 'C-1'),
    { kind: 'blank', id: sampleId('T-1'), set: blank },
    containerDraft(firm, 'T-1-1', null, { blank: sampleId('T-1'), group: 'temperature', ...inside('C-1') }),
    sealDraft(firm, 'C-1', 'S-1', 405),
    handDraft(firm, 'C-1', 'relinquished', 420, 'Ann Poe'),
    handDraft(firm, 'C-1', 'received', 422, 'Ben Roe', 'Laboratory A'),
  ];
}

function laboratory(name: string): Draft {
  return { kind: 'laboratory', id: sampleId(name), set: { name, timeZone: 'America/Chicago', receiving: [] } };
}

describe('what is asked about coolers', () => {
  it('[D1] is nothing of a good one, and follows what hangs on it and what is in it', async () => {
    const { firm, codes, flags, one, change, away } = await aFirm();
    await one(...goodCooler(firm));
    expect(await codes()).toEqual([]);
    await one(change('seal', 'seal S-1', { applied: minute(500) }));
    const [flag] = await flags();
    expect(flag?.fields).toMatchObject({
      subjectKind: 'cooler',
      subject: sampleId('C-1'),
      rule: 'seal-missing-at-hand-over',
    });
    await one(change('seal', 'seal S-1', { applied: minute(405) }, 2));
    expect(await codes()).toEqual([]);
    await one(change('container', 'TB-1-1', { cooler: null }));
    expect(await codes()).toEqual(['trip-blank-missing']);
    await one(away('container', 'W-1-1'), away('container', 'W-1-2'));
    expect(await codes()).toEqual([]);
    await one(handDraft(firm, 'C-1', 'received', 900, 'Cy Loe'));
    expect(await codes()).toEqual(['custody-gap']);
    await one(away('hand-over', 'C-1 received 900'));
    expect(await codes()).toEqual([]);
  });

  it('[D1] judges each container of what was received by its own limit, and no longer once the reading is corrected', async () => {
    const { firm, codes, flags, one, change } = await aFirm();
    await one(...goodCooler(firm), receiptDraft(firm, 'C-1', MORNING, { temperatureC: '7', containersCounted: 4 }));
    expect(await codes()).toEqual(['received-too-warm']);
    const [flag] = await flags();
    expect(flag?.fields).toMatchObject({ subjectKind: 'sample-receipt', severity: 'caution', addressee: 'office' });
    expect(String(flag?.fields.sentence)).toContain('TB-1-1, W-1-1 and W-1-2');
    const receipt = `receipt C-1 ${MORNING}`;
    await one(change('fill', 'W-1-1 35', { collected: minute(800) }));
    expect(await codes()).toEqual(['collected-after-hand-over', 'received-too-warm']);
    await one(
      change('sample-receipt', receipt, { temperatureC: '4.1' }),
      change('fill', 'W-1-1 35', { collected: minute(35) }, 2),
    );
    expect(await codes()).toEqual([]);
    await one(change('sample-receipt', receipt, { temperatureC: '6.4' }, 2));
    expect(await codes()).toEqual(['received-too-warm']);
    // of bottles that came without a cooler nothing is asked of one
    await one(change('sample-receipt', receipt, { cooler: null }, 3));
    expect(await codes()).toEqual([]);
  });

  it('[D9] follows the sample, its plan, the event and the clock of the site', async () => {
    const { world, firm, codes, one, change } = await aFirm();
    const planned = { event: firm.ids.event, number: 'W-1', type: 'normal', suites: ['VOC'], standing: 'planned' };
    await one(
      laboratory('A'),
      laboratory('B'),
      { kind: 'planned-sample', id: sampleId('plan'), set: planned },
      ...goodCooler(firm),
      change('cooler', 'C-1', { laboratory: sampleId('A') }),
      change('sample', 'W-1', { planned: sampleId('plan') }),
    );
    expect(await codes()).toEqual([]);
    await one(change('planned-sample', 'plan', { laboratory: sampleId('B') }));
    expect(await codes()).toEqual(['cooler-of-another-laboratory']);
    await one(change('sample', 'W-1', { laboratory: sampleId('A') }, 2));
    expect(await codes()).toEqual([]);
    await one(change('container', 'T-1-1', { cooler: null }));
    expect(await codes()).toEqual(['temperature-blank-missing']);
    const [event] = (await world.told('event')).filter(({ id }) => id === firm.ids.event);
    const plan = { ...(event?.fields.plan as object), sampling: { temperatureBlankPerCooler: false } };
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
    // packed at 16:40 by UTC, given away at 17:00: where it is fourteen hours later no midnight lies between, either
    const [site] = (await world.told('site')).filter(({ id }) => id === firm.ids.site);
    const zone = (timeZone: string, rev: number) => {
      return { kind: 'site', verb: 'amend', id: firm.ids.site, base: { rev }, set: { timeZone }, reason };
    };
    await one(change('cooler', 'C-1', { packed: minute(405) }, 2), zone('UTC', site?.rev ?? 1));
    expect(await codes()).toEqual([]);
    // 23:45 and 00:00 there
    await one(
      change('cooler', 'C-1', { packed: minute(410) }, 3),
      zone('Asia/Tokyo', (site?.rev ?? 1) + 1),
      change('hand-over', 'C-1 relinquished 420', { at: minute(1_000) }),
      change('hand-over', 'C-1 received 422', { at: minute(1_002) }),
    );
    expect(await codes()).toEqual([]);
    await one(zone('UTC', (site?.rev ?? 1) + 2));
    expect(await codes()).toEqual(['kept-overnight-unchecked']);
    await one(checkDraft(firm, 'C-1', 700, { temperatureC: '3', ice: true, place: 'locked truck', sealsIntact: true }));
    expect(await codes()).toEqual([]);
  });

  it('[D9] follows the laboratory that a suite names for a group, before what the plan has for the suite', async () => {
    const { world, firm, codes, one, change, away } = await aFirm();
    const [event] = (await world.told('event')).filter(({ id }) => id === firm.ids.event);
    const sampling = { laboratoryOf: [{ suite: 'VOC', laboratory: sampleId('B') }] };
    const set = { plan: { ...(event?.fields.plan as object), sampling } };
    const to = (laboratory: string | null) => ({ groups: [{ group: 'volatiles', laboratory }, { group: 'nitrate' }] });
    await one(
      laboratory('A'),
      laboratory('B'),
      ...goodCooler(firm),
      change('cooler', 'C-1', { laboratory: sampleId('A') }),
      change('container', 'T-1-1', { suite: null }),
    );
    expect(await codes()).toEqual([]);
    await one({ kind: 'event', verb: 'amend', id: firm.ids.event, base: { rev: event?.rev }, set, reason });
    expect(await codes()).toEqual(['cooler-of-another-laboratory']);
    await one({ kind: 'analyte-suite', id: sampleId('VOC'), set: { name: 'VOC', ...to(sampleId('A')) } });
    expect(await codes()).toEqual([]);
    // a push of the cooler alone: the suite is looked for
    await one(change('cooler', 'C-1', { laboratory: sampleId('B') }, 2));
    expect(await codes()).toEqual(['cooler-of-another-laboratory']);
    await one(change('cooler', 'C-1', { laboratory: sampleId('A') }, 3));
    expect(await codes()).toEqual([]);
    await one(change('analyte-suite', 'VOC', to(sampleId('B'))));
    expect(await codes()).toEqual(['cooler-of-another-laboratory']);
    await one(change('analyte-suite', 'VOC', to(sampleId('A')), 2));
    expect(await codes()).toEqual([]);
    await one(change('analyte-suite', 'VOC', { name: 'Volatiles' }, 3));
    expect(await codes()).toEqual(['cooler-of-another-laboratory']);
    // the bottles name a suite that nobody wrote down: their sample says which other they are for
    await one(change('sample', 'W-1', { suites: ['Volatiles'] }), change('blank', 'TB-1', { suites: ['Volatiles'] }));
    expect(await codes()).toEqual([]);
    await one(change('analyte-suite', 'VOC', to(null), 4));
    expect(await codes()).toEqual([]);
    await one(change('analyte-suite', 'VOC', to(sampleId('B')), 5));
    expect(await codes()).toEqual(['cooler-of-another-laboratory']);
    await one(change('cooler', 'C-1', { laboratory: sampleId('B') }, 4));
    expect(await codes()).toEqual([]);
    await one(change('cooler', 'C-1', { laboratory: sampleId('A') }, 5), away('analyte-suite', 'VOC', 6));
    expect(await codes()).toEqual(['cooler-of-another-laboratory']);
  });

  it('[D8] is the same whether the suite came first or the cooler', async () => {
    const suite = (name: string) => {
      const groups = [{ group: 'volatiles', laboratory: sampleId(name) }];
      return { kind: 'analyte-suite', id: sampleId('VOC'), set: { name: 'VOC', groups } };
    };
    const told = async (order: 'first' | 'last' | 'together') => {
      const { firm, flags, one, change } = await aFirm();
      const cooler = [...goodCooler(firm), change('cooler', 'C-1', { laboratory: sampleId('A') })];
      await one(laboratory('A'), laboratory('B'));
      const steps = {
        first: [[suite('B')], cooler],
        last: [cooler, [suite('B')]],
        together: [[...cooler, suite('B')]],
      };
      for (const drafts of steps[order]) await one(...drafts);
      return (await flags()).map(({ fields: { rule, sentence, evidenceHash } }) => ({ rule, sentence, evidenceHash }));
    };
    const first = await told('first');
    expect(first.map(({ rule }) => rule)).toEqual(['cooler-of-another-laboratory']);
    expect([await told('last'), await told('together')]).toEqual([first, first]);
  });

  it('[D9] stays reviewed while it rests on the same', async () => {
    const { world, firm, flags, one } = await aFirm();
    await one(...goodCooler(firm), receiptDraft(firm, 'C-1', MORNING, { ice: true }));
    const [flag] = await flags();
    expect(flag?.fields.rule).toBe('receipt-temperature-missing');
    const set = {
      flag: flag?.id,
      evidenceHash: flag?.fields.evidenceHash,
      decision: 'no-action',
      observed: firm.observed(minute(60)),
    };
    await one({ kind: 'flag-review', id: v7(), set });
    expect((await flags())[0]?.fields.standing).toBe('reviewed');
    await one(checkDraft(firm, 'C-1', 410, { ice: true }));
    expect((await flags()).map(({ fields }) => fields.standing)).toEqual(['reviewed']);
    expect([...(await deriveAgain(db.pool, world.firm.id, () => new Date()))]).toEqual([]);
  });
});

describe('flags about coolers', () => {
  /** Two coolers with much that is wrong, and a receipt of each. */
  function wrong(firm: TestFirm): Draft[] {
    const label = (text: string, condition: string, more = {}) => ({ label: text, condition, ...more });
    return [
      ...goodCooler(firm),
      coolerDraft(firm, 'C-2', { ...packed, carrier: 'Example Couriers' }),
      containerDraft(firm, 'W-1-3', 'W-1', { ...inside('C-2'), standing: 'expected' }),
      containerDraft(firm, 'W-1-4', 'W-1', inside('C-2')),
      fillDraft(firm, 'W-1-4', 40),
      handDraft(firm, 'C-2', 'relinquished', 430, 'Ann Poe'),
      handDraft(firm, 'C-2', 'received', 1_200, 'Cy Loe'),
      handDraft(firm, 'C-2', 'received', 1_300, 'Dee Voe'),
      sealDraft(firm, 'C-2', 'S-2', 800),
      checkDraft(firm, 'C-2', 900, { temperatureC: '-1', ice: false }),
      receiptDraft(firm, 'C-1', MORNING, {
        temperatureC: '8',
        sealNumbers: ['S-9'],
        sealsIntact: false,
        containersCounted: 2,
        items: [
          label('W-1-2', 'missing'),
          label('a vial', 'no-label'),
          label('W-1-1', 'headspace'),
          label('W-1-4', 'ok'),
        ],
      }),
      receiptDraft(firm, 'C-2', MORNING, { items: [label('W-1-4', 'broken')] }),
      receiptDraft(firm, null, MORNING, { items: [label('W-1-2', 'ok')] }),
      { verb: 'void', kind: 'container', id: sampleId('TB-1-1'), base: { rev: 1 }, reason },
      { verb: 'amend', kind: 'container', id: sampleId('T-1-1'), base: { rev: 1 }, set: { cooler: null }, reason },
    ];
  }

  it.each([1, 2, 3, 4, 5, 6])('[D9] are the same in whatever order the records come (seed %i)', async (seed) => {
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
    expect(new Set(await inOrder.codes()).size).toBeGreaterThan(13);
    expect(await recompute(db.pool, mixed.firm.id)).toEqual([]);
    expect([...(await deriveAgain(db.pool, mixed.firm.id, () => new Date()))]).toEqual([]);
  });
});
