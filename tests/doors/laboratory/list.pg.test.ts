import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readCsv } from '../../documents/read-csv.ts';
import { type LaboratoryFirm, laboratoryFirm, minute } from '../../support/laboratory-firm.ts';

let f: LaboratoryFirm;
const coolers = { first: v7(), second: v7(), others: v7() };

interface Row {
  readonly sampleNumber: string;
  readonly labelId: string;
  readonly [column: string]: string;
}

beforeAll(async () => {
  f = await laboratoryFirm();
  const { event } = f;
  const { laboratory, other } = f.ids;
  const cooler = (id: string, number: string, where: string) => ({
    kind: 'cooler',
    id,
    set: { event, number, laboratory: where },
  });
  await f.push(
    cooler(coolers.first, 'C-1', laboratory),
    cooler(coolers.second, 'C-2', laboratory),
    cooler(coolers.others, 'C-3', other),
  );
  await f.sample({ number: '2605-48213', at: minute(30), cooler: coolers.first, remark: 'beside the duplicate' });
  await f.sample({
    number: 'DUP-1',
    at: minute(35),
    cooler: coolers.first,
    type: 'blind-duplicate',
    laboratoryNumber: '2605-10007',
  });
  await f.sample({ number: '2605-77777', at: minute(90), cooler: coolers.second });
  await f.sample({ number: '2605-33333', at: minute(95), cooler: coolers.others });
});
afterAll(() => f.t.close());

const list = (more = '') => f.laboratory.get(`/laboratory/events/${f.event}/list.json${more}`);
const labels = (rows: readonly Row[]) => rows.map(({ labelId }) => labelId);

describe('the list of a laboratory', () => {
  it('is empty until a cooler is closed, and then has all bottles of that one in the order of their numbers', async () => {
    const before = await list();
    expect([before.status, before.body.rows, before.body.coolers]).toEqual([200, [], []]);
    await f.amend('cooler', coolers.first, { packed: minute(60) });
    const { body } = await list();
    expect(labels(body.rows)).toEqual(['2605-10007-1', '2605-10007-2', '2605-48213-1', '2605-48213-2']);
    expect(body.coolers).toEqual([{ id: expect.any(String), number: 'C-1', containers: 4 }]);
    expect(body.coolers[0].id).not.toBe(coolers.first);
    expect(body.trailer.count).toBe(4);
  });

  it('tells of a blind duplicate its other number and time, and of nothing its well or what the crew remarked', async () => {
    const { body, text } = await list();
    const [blind, plain] = [body.rows[0] as Row, body.rows[2] as Row];
    expect(blind).toMatchObject({
      samplingPoint: '2605-10007',
      matrix: 'groundwater',
      cooler: 'C-1',
      standing: 'sent',
    });
    expect(plain).toMatchObject({ samplingPoint: '2605-48213', analyses: expect.stringContaining('(volatiles)') });
    expect(plain.labelTime).toBe('2026-05-04 05:30 -05:00');
    expect(Date.parse(String(blind.labelTime))).toBeLessThan(Date.parse(minute(30)));
    for (const hidden of ['DUP-1', 'W-1', 'beside', 'blind', coolers.first]) expect(text).not.toContain(hidden);
  });

  it('is the same in every format, with one count and hash', async () => {
    const { body } = await list();
    const csv = readCsv((await f.laboratory.get(`/laboratory/events/${f.event}/list.csv`)).text);
    expect(csv.at(-1)?.slice(0, 3)).toEqual(['end of list', '4', `sha256:${body.trailer.sha256}`]);
    expect(csv.slice(1, -1).map((row) => row[1])).toEqual(labels(body.rows));
    const xlsx = await f.laboratory.get(`/laboratory/events/${f.event}/list.xlsx`);
    expect([xlsx.status, xlsx.text.slice(0, 2)]).toEqual([200, 'PK']);
  });

  it('tells what is new since a cursor: added, changed under its former name, and no longer listed', async () => {
    const { cursor } = (await list()).body;
    const none = (await list(`?since=${cursor}`)).body;
    expect([none.added, none.changed, none.noLongerListed]).toEqual([[], [], []]);
    await f.amend('cooler', coolers.second, { packed: minute(120) });
    const one = (await list(`?since=${cursor}`)).body;
    expect(labels(one.added)).toEqual(['2605-77777-1', '2605-77777-2']);
    expect(one.changed).toEqual([]);
    const { rows } = (await list()).body;
    const of = (label: string) =>
      f.office
        .get(`/containers?event=${f.event}&limit=200`)
        .then(
          ({ body }) =>
            body.items.find((item: { fields: { label: string } }) => item.fields.label === label).id as string,
        );
    await f.amend('container', await of('2605-77777-1'), { label: '2605-77777-A' });
    await f.amend('container', await of('2605-77777-2'), { standing: 'discarded' });
    const two = (await list(`?since=${one.cursor}`)).body;
    expect(two.changed).toMatchObject([
      { was: { sampleNumber: '2605-77777', labelId: '2605-77777-1' }, row: { labelId: '2605-77777-A' } },
    ]);
    expect(two.noLongerListed).toEqual([{ sampleNumber: '2605-77777', labelId: '2605-77777-2' }]);
    // from the first cursor on, the whole way at once, is the list as it is now
    const all = (await list(`?since=${cursor}`)).body;
    const now = (await list()).body.rows as Row[];
    expect([...rows.slice(0, 4), ...all.added]).toEqual(now);
  });

  it('takes no cursor of another laboratory, of another event, or one that was made up', async () => {
    await f.amend('cooler', coolers.others, { packed: minute(120) });
    const theirs = (await f.other.get(`/laboratory/events/${f.event}/list.json`)).body;
    expect(labels(theirs.rows)).toEqual(['2605-33333-1', '2605-33333-2']);
    const foreign = await list(`?since=${theirs.cursor}`);
    expect([foreign.status, foreign.body.pointer]).toEqual([400, '/since']);
    expect(foreign.body.detail).toContain('another laboratory');
    const own = (await list()).body.cursor as string;
    for (const bad of ['x', `${own.slice(0, -4)}AAAA`, own.slice(0, 40)]) {
      const { status, body } = await list(`?since=${bad}`);
      expect([status, body.detail]).toEqual([400, expect.stringContaining('no cursor that a list of this firm gave')]);
    }
  });

  it('shows in two cursors of one place neither that nor an order', async () => {
    const [one, two] = [(await list()).body.cursor, (await list()).body.cursor];
    expect(one).not.toBe(two);
    expect(one).toHaveLength(two.length);
  });

  it('is of the events that concern it, and of no other', async () => {
    const { body } = await f.laboratory.get('/laboratory/events');
    expect(body.items).toEqual([
      {
        id: f.event,
        name: 'Spring round',
        site: 'Old Depot',
        starts: '2026-05-04',
        ends: '2026-05-05',
        standing: 'open',
      },
    ]);
    const fields = {
      site: f.t.firm.ids.site,
      name: 'Autumn',
      starts: '2026-09-01',
      ends: '2026-09-02',
      standing: 'open',
    };
    const autumn = await f.office.post('/events', { ...fields, plan: { criteria: 'epa-region-1-low-stress-rev-4' } });
    const missing = await f.laboratory.get(`/laboratory/events/${autumn.body.id}/list.json`);
    expect([missing.status, missing.body.code]).toEqual([404, 'record_missing']);
    const sampling = { laboratoryOf: [{ suite: 'metals', laboratory: f.ids.laboratory }] };
    await f.office.patch(`/events/${autumn.body.id}`, {
      base: { rev: 1 },
      plan: { criteria: 'epa-region-1-low-stress-rev-4', sampling },
    });
    expect((await f.laboratory.get('/laboratory/events')).body.items).toHaveLength(2);
    expect((await f.other.get('/laboratory/events')).body.items).toHaveLength(1);
    const cursor = (await list()).body.cursor;
    const elsewhere = await f.laboratory.get(`/laboratory/events/${autumn.body.id}/list.json?since=${cursor}`);
    expect(elsewhere.body.detail).toContain('another event');
  });

  it('has its orders: analytes with limits, turnaround, and what is planned and nothing of how far it has come', async () => {
    const planned = {
      event: f.event,
      number: '2605-55555',
      type: 'normal',
      suites: ['volatiles'],
      standing: 'planned',
    };
    const id = await f.record('planned-sample', { ...planned, laboratory: f.ids.laboratory });
    const bottle = {
      event: f.event,
      planned: id,
      group: 'volatiles',
      suite: 'volatiles',
      type: 'vial',
      volumeMl: '40',
    };
    await f.record('container', { ...bottle, label: '2605-55555-1', standing: 'expected' });
    const { body } = await f.laboratory.get(`/laboratory/events/${f.event}/orders`);
    expect(body.expected).toMatchObject({
      samples: 1,
      byContainer: [{ containerType: 'glass vial', containers: body.expected.containers }],
    });
    const [, volatiles] = body.suites;
    expect(volatiles).toMatchObject({ suite: 'volatiles', turnaroundDays: 10 });
    expect(volatiles.analytes[0]).toEqual({
      name: 'Benzene',
      casNumber: '71-43-2',
      reportingLimit: '0.5',
      unit: 'ug/L',
    });
    await f.sample({ number: '2605-55555', at: minute(150), cooler: await f.cooler('C-9'), planned: id });
    expect((await f.laboratory.get(`/laboratory/events/${f.event}/orders`)).body).toEqual(body);
  });
});

describe('the list of the office', () => {
  it('has every container as it is, for office and crews', async () => {
    for (const client of [f.office, f.crew]) {
      const { status, body } = await client.get(`/events/${f.event}/sample-list.json`);
      expect([status, body.rows.length, body.trailer.count]).toEqual([200, 11, 11]);
      const blind = body.rows.find(({ sampleNumber }: Row) => sampleNumber === 'DUP-1') as Row;
      expect(blind).toMatchObject({
        samplingPoint: 'W-1',
        laboratory: 'Testlab',
        labelTime: '2026-05-04 05:35 -05:00',
      });
      expect(blind.dueAt).toBe('2026-05-18T10:35:00Z');
    }
    const csv = await f.office.get(`/events/${f.event}/sample-list.csv`);
    expect(readCsv(csv.text)).toHaveLength(13);
    expect((await f.laboratory.get(`/events/${f.event}/sample-list.json`)).status).toBe(403);
    expect((await f.office.get(`/laboratory/events/${f.event}/list.json`)).status).toBe(403);
  });
});
