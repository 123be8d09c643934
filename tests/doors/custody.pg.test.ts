import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CustodyRecord } from '../../src/documents/custody/custody-facts.ts';
import { withPdf } from '../documents/support/pdf-pages.ts';
import { readCodes } from '../documents/support/read-codes.ts';
import { checkDraft, coolerDraft, handDraft, receiptDraft, sealDraft } from '../support/cooler-drafts.ts';
import { containerDraft, fillDraft, pumpedVisit, sampleDraft, sampleId } from '../support/sample-drafts.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import type { Draft, TestClient } from '../support/test-firm.ts';
import { minute } from '../support/visit-drafts.ts';

let on: TestApp;
let admin: TestClient;
let tokens: Readonly<Record<'coordinator' | 'north' | 'south' | 'laboratory', string>>;

const LAB = sampleId('laboratory');
const MORNING = 23 * 60;
const HOSTILE = `\u202e\u0001\u001b[31mمرحبا😀<script>&\u2028\ufffe${'W'.repeat(2_000)}`;

const inside = (more: object = {}) => ({ cooler: sampleId('C-1'), ...more });
const metals = {
  group: 'metals-total',
  suite: 'Metals',
  type: 'bottle',
  material: 'hdpe',
  preservatives: ['nitric-acid'],
  volumeMl: '500',
};

/** A sample, its blind duplicate and a trip blank in one cooler, on their way to the laboratory. */
function drafts(): Draft[] {
  const { firm } = on;
  const laboratory = { name: 'Example Laboratory', timeZone: 'America/Chicago', receiving: [], address: '1 Way' };
  const trip = { event: firm.ids.event, type: 'trip', number: 'TB-1', collected: minute(-600), suites: ['VOC'] };
  const suite = { name: 'VOC', groups: [{ group: 'volatiles' }], turnaroundDays: 10 };
  return [
    { kind: 'laboratory', id: LAB, set: laboratory },
    { kind: 'analyte-suite', id: sampleId('VOC'), set: suite },
    ...pumpedVisit(firm, 'v1'),
    ...pumpedVisit(firm, 'v2', { well: firm.ids.shallow, crew: firm.ids.south }),
    sampleDraft('v1', 'S-101', { suites: ['VOC', 'Metals'] }),
    sampleDraft('v1', 'FD-SECRET', {
      type: 'blind-duplicate',
      of: sampleId('S-101'),
      laboratoryNumber: 'S-117',
      collected: minute(50),
    }),
    sampleDraft('v2', 'S-102', { collected: minute(20) }),
    coolerDraft(firm, 'C-1', {
      laboratory: LAB,
      packed: minute(400),
      ice: '3 bags',
      carrier: 'Example Couriers',
      trackingNumber: '7001',
    }),
    containerDraft(firm, 'S-101-1', 'S-101', inside()),
    containerDraft(firm, 'S-101-2', 'S-101', inside(metals)),
    containerDraft(firm, 'S-117-1', 'FD-SECRET', inside()),
    containerDraft(firm, 'S-102-1', 'S-102', inside()),
    containerDraft(firm, 'S-102-2', 'S-102', { standing: 'expected' }),
    { kind: 'blank', id: sampleId('TB-1'), set: trip },
    containerDraft(firm, 'TB-1-1', null, inside({ blank: sampleId('TB-1') })),
    fillDraft(firm, 'S-101-1', 35),
    fillDraft(firm, 'S-101-2', 40),
    fillDraft(firm, 'S-117-1', 50),
    fillDraft(firm, 'S-102-1', 20),
    fillDraft(firm, 'TB-1-1', -600),
    sealDraft(firm, 'C-1', 'S-1', 405),
    checkDraft(firm, 'C-1', 410, { temperatureC: '4', ice: true }),
    handDraft(firm, 'C-1', 'relinquished', 420, 'Ann Reader'),
    handDraft(firm, 'C-1', 'received', MORNING, 'Cy Loe', 'Example Laboratory'),
    receiptDraft(firm, 'C-1', MORNING + 10, {
      temperatureC: '7',
      temperatureOf: 'cooler',
      ice: true,
      sealsIntact: true,
      sealNumbers: ['S-1'],
      containersCounted: 4,
      items: [
        { label: 'TB-1-1', condition: 'missing' },
        { label: 'a vial of 40 mL', condition: 'no-label' },
      ],
    }),
  ];
}

async function pushed(...all: Draft[]): Promise<void> {
  const outcomes = await admin.push(...all);
  expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
}

function get(url: string, token = tokens.coordinator) {
  return on.app.inject({ method: 'GET', url, headers: { authorization: `Bearer ${token}` } });
}

async function textOf(bytes: Buffer): Promise<string> {
  return withPdf(bytes, async (pages) =>
    pages
      .map(({ text }) => text)
      .join(' ')
      .replace(/\s+/g, ' '),
  );
}

async function laboratoryToken(): Promise<string> {
  const asked = await on.app.inject({
    method: 'POST',
    url: '/v1/tokens',
    headers: { authorization: `Bearer ${await on.token('admin')}` },
    payload: { label: 'At the laboratory', role: 'laboratory', laboratory: LAB },
  });
  expect(asked.statusCode, asked.body).toBe(201);
  return asked.json().secret ?? asked.json().token;
}

beforeAll(async () => {
  on = await testApp();
  admin = await on.firm.client('admin');
  await pushed(...drafts());
  const { phone, otherPhone } = on.firm.ids;
  tokens = {
    coordinator: await on.token('coordinator'),
    north: await on.token('crew', phone),
    south: await on.token('crew', otherPhone),
    laboratory: await laboratoryToken(),
  };
});
afterAll(() => on.close());

const cooler = sampleId('C-1');

describe('the custody of a cooler', () => {
  it('is told by REST and by GraphQL alike: who had it, what is in it, what was received, and what is asked', async () => {
    const rest = await get(`/v1/coolers/${cooler}/custody`);
    expect(rest.statusCode, rest.body).toBe(200);
    const told = rest.json();
    expect(told).toMatchObject({
      number: 'C-1',
      laboratory: 'Example Laboratory',
      standing: 'at-laboratory',
      gaps: [],
    });
    expect(told.changes).toMatchObject([
      { isCarrierLeg: true, order: 'in-order', relinquished: { name: 'Ann Reader' } },
    ]);
    expect(told.contents.map(({ label }: { label: string }) => label)).toEqual([
      'S-101-1',
      'S-101-2',
      'S-102-1',
      'S-117-1',
      'TB-1-1',
    ]);
    const [receipt] = told.receipts;
    const cold = Object.fromEntries(
      receipt.containers.map((one: { label: string; cold: string }) => [one.label, one.cold]),
    );
    expect(cold).toEqual({
      'S-101-1': 'too-warm',
      'S-101-2': 'no-limit',
      'S-102-1': 'too-warm',
      'S-117-1': 'too-warm',
    });
    expect(receipt).toMatchObject({ expected: 5, counted: 4, missing: [{ label: 'TB-1-1' }] });
    expect(receipt.unlabelled).toMatchObject([
      { candidates: [{ label: 'TB-1-1', reasons: ['expected and not received', '40 mL', 'vial'] }] },
    ]);
    const codes = told.findings.map(({ code }: { code: string }) => code).toSorted();
    expect(codes).toEqual([
      'bottle-without-label',
      'container-not-received',
      'receipt-count-differs',
      'received-too-warm',
      'temperature-blank-missing',
    ]);
    const query = `{ cooler(id: "${cooler}") { custody { standing holder changes { order isCarrierLeg } findings { code sentence } } } }`;
    const graph = await on.app.inject({
      method: 'POST',
      url: '/graphql',
      headers: { authorization: `Bearer ${tokens.coordinator}`, 'content-type': 'application/json' },
      payload: JSON.stringify({ query }),
    });
    const asked = graph.json().data.cooler.custody;
    expect(asked.findings).toEqual(
      told.findings.map(({ code, sentence }: { code: string; sentence: string }) => ({ code, sentence })),
    );
    expect(asked).toMatchObject({
      standing: 'AT_LABORATORY',
      holder: told.holder,
      changes: [{ order: 'IN_ORDER', isCarrierLeg: true }],
    });
  });

  it('is told to crews that follow the event, to no laboratory, and of nothing that is not there', async () => {
    expect((await get(`/v1/coolers/${cooler}/custody`, tokens.north)).statusCode).toBe(200);
    for (const address of ['custody', 'custody-record.pdf', 'custody-record.json']) {
      expect((await get(`/v1/coolers/${cooler}/${address}`, tokens.laboratory)).statusCode).toBe(403);
      expect((await get(`/v1/coolers/${sampleId('nothing')}/${address}`)).json().code).toBe('record_missing');
      expect((await get(`/v1/coolers/${sampleId('S-101-1')}/${address}`)).json().code).toBe('record_missing');
    }
  });
});

describe('the custody record of a cooler', () => {
  it('tells of each sample what the laboratory is told, the same as data and on paper', async () => {
    const json = await get(`/v1/coolers/${cooler}/custody-record.json`);
    expect(json.statusCode, json.body).toBe(200);
    const record = json.json() as CustodyRecord;
    expect(record.samples.map(({ sampleNumber }) => sampleNumber)).toEqual(['S-101', 'S-102', 'S-117', 'TB-1']);
    const pdf = await get(`/v1/coolers/${cooler}/custody-record.pdf?paper=a4`);
    expect(pdf.statusCode, pdf.body).toBe(200);
    expect(pdf.headers['content-type']).toBe('application/pdf');
    const text = await textOf(pdf.rawPayload);
    for (const part of [
      'S-117',
      '4 samples',
      '5 containers',
      'Example Laboratory',
      'Ann Reader',
      '7001',
      'Testwater Associates',
      '10 d',
      '7 °C (cooler)',
      'trip blank',
    ]) {
      expect(text).toContain(part);
    }
    // no parent, no own number, no type, no well: of each it tells the same
    for (const said of [json.body, text]) {
      for (const hidden of [
        'FD-SECRET',
        'duplicate',
        'W-1',
        'W-4S',
        sampleId('S-101'),
        sampleId('FD-SECRET'),
        minute(50),
      ]) {
        expect(said).not.toContain(hidden);
      }
    }
    const shapes = record.samples.slice(0, 3).map(({ containers: _, ...one }) => Object.keys(one).join());
    expect(new Set(shapes).size).toBe(1);
    const [, , blind] = record.samples;
    const time = blind && 'at' in blind.labelTime ? blind.labelTime.at : '';
    expect(Date.parse(time)).toBeLessThan(Date.parse(minute(20)));
  });

  it('shows what was corrected: the old value struck through, with initials, date and reason', async () => {
    const change = (kind: string, name: string, set: object): Draft => {
      return {
        kind,
        verb: 'amend',
        id: sampleId(name),
        base: { rev: 1 },
        set: { ...set },
        reason: 'misread',
        by: on.firm.ids.bob,
      };
    };
    on.firm.nowMs = Date.parse(minute(1_500));
    await pushed(
      change('cooler', 'C-1', { trackingNumber: '7007' }),
      change('sample', 'S-102', { collected: minute(25) }),
    );
    const record = (await get(`/v1/coolers/${cooler}/custody-record.json`)).json() as CustodyRecord;
    expect(record.cooler.trackingNumber).toMatchObject({
      now: '7007',
      was: [{ text: '7001', initials: 'BW', reason: 'misread' }],
    });
    const [, other] = record.samples;
    expect(other?.labelTime).toMatchObject({
      corrected: { now: '2026-05-04 05:25 -05:00', was: [{ text: '2026-05-04 05:20 -05:00', initials: 'BW' }] },
    });
    const text = await textOf((await get(`/v1/coolers/${cooler}/custody-record.pdf`)).rawPayload);
    expect(text).toContain('7001 7007 (BW 2026-05-05: misread)');
    const findings = (await get(`/v1/coolers/${cooler}/custody`)).json().findings as {
      code: string;
      sentence: string;
    }[];
    const told = findings.find(({ code }) => code === 'corrected-after-signing')?.sentence;
    expect(told).toContain('trackingNumber from "7001" to "7007" by Bob Writer');
    expect(record.remarks).toEqual(['Values were corrected after it was first signed for; both stand here.']);
  });

  it('asks about what was corrected after somebody signed by when the phone wrote it down, and names the bottle', async () => {
    const { firm } = on;
    const amend = (name: string, set: Readonly<Record<string, unknown>>, minutes: number): Draft => {
      const clock = { wall: minute(minutes), monotonicMs: minutes, boot: sampleId('boot-31'), sequence: minutes };
      const how = { base: { rev: 1 }, reason: 'misread', by: firm.ids.bob, clock };
      return { kind: 'container', verb: 'amend', id: sampleId(name), set, ...how };
    };
    const inCooler = { cooler: sampleId('C-31') };
    await pushed(
      coolerDraft(firm, 'C-31', { packed: minute(400) }),
      sampleDraft('v1', 'S-131', { laboratoryNumber: 'S-131' }),
      ...['P-before', 'P-after'].map((name) => containerDraft(firm, name, 'S-131', inCooler)),
      containerDraft(firm, 'P-filled', 'S-131', { ...inCooler, standing: 'expected' }),
      handDraft(firm, 'C-31', 'relinquished', 420, 'Ann Reader'),
    );
    const findings = async () => {
      const its = (await get(`/v1/coolers/${sampleId('C-31')}/custody`)).json().findings as Record<string, string>[];
      return its.filter(({ code }) => code === 'corrected-after-signing').map(({ sentence }) => sentence);
    };
    const record = async () =>
      (await get(`/v1/coolers/${sampleId('C-31')}/custody-record.json`)).json() as CustodyRecord;
    const CORRECTED = 'Values were corrected after it was first signed for; both stand here.';
    // another phone, which had no signal before it was signed for
    const phone = await firm.client('crew');
    await phone.push(amend('P-before', { preservatives: ['nitric-acid'] }, 390));
    await phone.push(amend('P-filled', { standing: 'filled' }, 450));
    expect(await findings()).toEqual([]);
    expect((await record()).remarks).not.toContain(CORRECTED);
    await phone.push(amend('P-after', { preservatives: ['nitric-acid'] }, 450));
    expect(await findings()).toEqual([
      expect.stringContaining(
        'was corrected: preservatives of P-after from "hydrochloric acid" to "nitric acid" by Bob Writer. The record',
      ),
    ]);
    expect((await record()).remarks).toContain(CORRECTED);
  });

  it('keeps in sight what was moved after somebody signed, by when the phone wrote it down and not when it was heard of', async () => {
    const { firm } = on;
    const wall = (at: number) => ({ wall: minute(at), monotonicMs: at, boot: sampleId('boot'), sequence: at });
    const at = (minutes: number) => ({ by: firm.ids.bob, clock: wall(minutes) });
    const amend = (name: string, to: string, minutes: number): Draft => {
      const set = { cooler: sampleId(to) };
      return { kind: 'container', verb: 'amend', id: sampleId(name), base: { rev: 1 }, set, ...at(minutes) };
    };
    await pushed(
      coolerDraft(firm, 'C-21', { packed: minute(400) }),
      coolerDraft(firm, 'C-22'),
      sampleDraft('v1', 'S-121', { laboratoryNumber: 'S-121' }),
      ...['B-stays', 'B-left'].map((name) => containerDraft(firm, name, 'S-121', { cooler: sampleId('C-21') })),
      ...['B-late', 'B-came'].map((name) => containerDraft(firm, name, 'S-121', { cooler: sampleId('C-22') })),
      handDraft(firm, 'C-21', 'relinquished', 420, 'Ann Reader'),
    );
    await pushed({ ...amend('B-left', 'C-22', 430), reason: 'wrong cooler' });
    // another phone, which had no signal until now: what it packed was in there when it was signed for
    await (await firm.client('crew')).push(amend('B-late', 'C-21', 410), amend('B-came', 'C-21', 440));
    const record = (await get(`/v1/coolers/${sampleId('C-21')}/custody-record.json`)).json() as CustodyRecord;
    const marks = record.samples[0]?.containers.map(({ count, added, takenOut }) => ({ count, added, takenOut }));
    // with a blind duplicate in the event they are counted, and none is marked
    expect(marks).toEqual([{ count: 3 }]);
    expect(record.remarks).toContain(
      'After it was signed for: 1 container added (BW 2026-05-04), 1 container taken out (BW 2026-05-04).',
    );
    const text = await textOf((await get(`/v1/coolers/${sampleId('C-21')}/custody-record.pdf`)).rawPayload);
    expect(text).toContain('After it was signed for');
    const told = (await get(`/v1/coolers/${sampleId('C-21')}/custody`)).json().findings as typeof record & [];
    const asked = told.filter(({ code }: { code: string }) => code.endsWith('after-signing')) as { sentence: string }[];
    expect(asked.map(({ sentence }) => sentence)).toEqual([
      expect.stringContaining('B-left was put into cooler C-22 by Bob Writer 2026-05-04'),
    ]);
    expect(asked[0]?.sentence).toMatch(/B-came was added from cooler C-22 by Bob Writer 2026-05-04/);
    expect(asked[0]?.sentence).toMatch(/after Ann Reader relinquished it .* \(wrong cooler\)/);
    expect(asked[0]?.sentence).not.toContain('B-late');
  });

  it('asks about numbers that two coolers have, and a bottle that two crews packed in two', async () => {
    const { firm } = on;
    const twin = { ...coolerDraft(firm, 'C-31'), id: sampleId('C-31 twin') };
    const seal = (name: string, cooler: string): Draft => ({
      ...sealDraft(firm, cooler, '0042', 400),
      id: sampleId(name),
    });
    await pushed(
      coolerDraft(firm, 'C-31'),
      coolerDraft(firm, 'C-32'),
      twin,
      seal('seal of 31', 'C-31'),
      seal('seal of 32', 'C-32'),
      sampleDraft('v1', 'S-131', { laboratoryNumber: 'S-131' }),
      containerDraft(firm, 'B-131', 'S-131', {}),
    );
    const pack = (cooler: string, by: string): Draft => {
      const set = { cooler: sampleId(cooler) };
      return { kind: 'container', verb: 'amend', id: sampleId('B-131'), base: { rev: 1 }, set, by };
    };
    await pushed(pack('C-32', firm.ids.ann));
    await (await firm.client('crew')).push(pack('C-31', firm.ids.bob));
    const of = async (cooler: string) => {
      const told = (await get(`/v1/coolers/${sampleId(cooler)}/custody`)).json();
      const all = told.findings as { code: string; sentence: string }[];
      return Object.fromEntries(all.map(({ code, sentence }) => [code, sentence]));
    };
    const [one, other] = [await of('C-31'), await of('C-32')];
    expect(one['cooler-number-twice']).toMatch(/^Cooler C-31: The number C-31 is that of another cooler/);
    expect(other['cooler-number-twice']).toBeUndefined();
    expect(one['seal-number-twice']).toContain('and on cooler C-32');
    expect(other['seal-number-twice']).toContain('and on cooler C-31');
    const both =
      /B-131 was put in cooler C-3[12] by (Ann|Bob) \w+ and in cooler C-3[12] by (Ann|Bob) \w+, who did not know/;
    for (const told of [one, other]) expect(told['packed-in-two-coolers']).toMatch(both);
  });

  it('stays a document whatever somebody typed', async () => {
    const { firm } = on;
    const text = (most: number) => HOSTILE.slice(0, most);
    const set = {
      cooler: sampleId('C-9'),
      side: 'relinquished',
      at: minute(9),
      name: text(200),
      organization: text(200),
      to: text(200),
      place: text(200),
      purpose: text(200),
      observed: firm.observed(minute(9)),
    };
    await pushed(
      coolerDraft(firm, 'C-9', { ice: text(200), carrier: text(200), trackingNumber: text(64), packed: minute(1) }),
      { kind: 'hand-over', id: sampleId('C-9 hostile'), set },
      sampleDraft('v1', text(60), { suites: [text(60)] }),
      {
        ...containerDraft(firm, 'x', text(60), { cooler: sampleId('C-9'), suite: text(60), label: text(64) }),
        id: sampleId('hostile bottle'),
      },
      sealDraft(firm, 'C-9', text(64), 3, { appliedBy: text(200) }),
      receiptDraft(firm, 'C-9', MORNING, {
        sealNumbers: [text(64)],
        items: [{ label: text(64), condition: 'extra', remark: text(1_000) }],
        remark: text(1_000),
      }),
    );
    const pdf = await get(`/v1/coolers/${sampleId('C-9')}/custody-record.pdf`);
    expect(pdf.statusCode, pdf.body).toBe(200);
    expect(await textOf(pdf.rawPayload)).toContain('WWWW');
    expect((await get(`/v1/coolers/${sampleId('C-9')}/custody-record.json`)).statusCode).toBe(200);
    const labels = await get(`/v1/events/${firm.ids.event}/labels.pdf?sample=${sampleId(text(60))}`);
    expect(labels.statusCode, labels.body).toBe(200);
  });
});

describe('the labels of an event', () => {
  async function codes(query: string): Promise<readonly string[]> {
    const answer = await get(`/v1/events/${on.firm.ids.event}/labels.pdf?${query}`);
    expect(answer.statusCode, answer.body.slice(0, 300)).toBe(200);
    return withPdf(answer.rawPayload, async (pages) => {
      const all: string[] = [];
      for (const page of pages) all.push(...(await readCodes(await page.image(3))));
      return all.toSorted();
    });
  }

  it('are those of a sample, a well or a crew, and another decoder reads their codes', async () => {
    const { ids } = on.firm;
    expect(await codes(`sample=${sampleId('S-101')}`)).toEqual(['S-101-1', 'S-101-2']);
    expect(await codes(`well=${ids.shallow}`)).toEqual(['S-102-1', 'S-102-2']);
    expect(await codes(`crew=${ids.south}&form=roll`)).toEqual(['S-102-1', 'S-102-2']);
    expect(await codes(`sample=${sampleId('TB-1')}&form=roll&labelWidthMm=60&labelHeightMm=30`)).toEqual(['TB-1-1']);
  });

  it('say the told number and time, with room for a pen where nothing is filled', async () => {
    const of = (query: string) => get(`/v1/events/${on.firm.ids.event}/labels.pdf?${query}`);
    const blind = await textOf((await of(`sample=${sampleId('FD-SECRET')}`)).rawPayload);
    expect(blind).toContain('S-117');
    expect(blind).not.toContain('FD-SECRET');
    const other = await textOf((await of(`sample=${sampleId('S-102')}`)).rawPayload);
    expect(other).toMatch(/Date _+ Time _+/);
    expect(other).toContain('2026-05-04 05:2');
  });

  it('are refused where there is none, or no such label can be laid out', async () => {
    const url = `/v1/events/${on.firm.ids.event}/labels.pdf`;
    expect((await get(`${url}?well=${sampleId('nothing')}`)).json().code).toBe('record_missing');
    const tiny = await get(`${url}?form=roll&labelWidthMm=5&labelHeightMm=5`);
    expect([tiny.statusCode, tiny.json().code]).toEqual([400, 'bad_request']);
    expect((await get(`${url}?rows=999`)).statusCode).toBe(400);
    expect((await get(url, tokens.laboratory)).statusCode).toBe(403);
    expect((await get(`/v1/events/${sampleId('nothing')}/labels.pdf`)).json().code).toBe('record_missing');
  });
});
