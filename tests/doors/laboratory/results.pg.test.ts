import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { recompute } from '../../../src/writes/recompute.ts';
import { type LaboratoryFirm, laboratoryFirm, minute } from '../../support/laboratory-firm.ts';

let f: LaboratoryFirm;

beforeAll(async () => {
  f = await laboratoryFirm();
  // the laboratory writes when the cooler has come
  f.t.firm.nowMs += 7 * 24 * 60 * 60_000;
  const cooler = v7();
  const where = { event: f.event, number: 'C-1', laboratory: f.ids.laboratory, packed: minute(120) };
  await f.push({ kind: 'cooler', id: cooler, set: where });
  await f.sample({ number: '2605-11111', at: minute(0), cooler });
  const blind = { type: 'blind-duplicate', laboratoryNumber: '2605-90909' };
  await f.sample({ number: 'DUP-1', at: minute(35), cooler, ...blind });
  await f.sample({ number: '2605-44444', at: minute(40), cooler: await f.cooler('C-2') });
});
afterAll(() => f.t.close());

const CSV = { 'content-type': 'text/csv' };
const send = (text: string | Buffer, more = '', client = f.laboratory, prefix = '/laboratory') =>
  client.post(`${prefix}/events/${f.event}/results.csv${more}`, text, CSV);
const stored = async () =>
  (await f.office.get(`/laboratory-results?event=${f.event}`)).body.items.map(
    ({ fields }: { fields: Record<string, unknown> }) => fields,
  ) as Record<string, unknown>[];

const HEAD =
  'sampleNumber,analyte,casNumber,value,unit,qualifiers,reportingLimit,method,fraction,extracted,analyzed,dilution';
const GOOD = [
  HEAD,
  '2605-11111,Benzene,71-43-2,7.10,ug/L,,0.5,8260D,,,2026-05-08T10:00:00-05:00,2',
  '2605-11111,Toluene,108-88-3,0.5,ug/L,U,0.5,8260D,,,,',
  '2605-90909,Benzene,71-43-2,0.30,ug/L,J B,0.5,8260D,,,,',
  '2605-11111,Arsenic,7440-38-2,-0.2,mg/L,,,6020B,Dissolved,2026-05-07T09:00:00-05:00,,',
].join('\n');

describe('results as CSV', () => {
  it('are judged whole without writing anything: every problem, with its line and what to do', async () => {
    const bad = [
      HEAD,
      '2605-11111,Benzene,71-43-3,<0.5,ug/L,ND,0.5,8260D,,,yesterday,',
      '9999,Benzene,71-43-2,1,ug/L,,,,,,,',
      '2605-11111,Benzene,108-88-3,1,ug/L,,,,,,,',
      '2605-11111,Benzene,,"1,5",pCi/L,,,,,,,',
      '2605-11111,Toluene,,,ug/L,U,,,,,,',
      '2605-44444,Benzene,,1,ug/L,,,,,,,',
    ].join('\r\n');
    const { status, body } = await send(bad, '?check=true');
    expect([status, body.written, body.lines, body.results]).toEqual([200, false, 6, 0]);
    const said = body.problems.map(({ line, column, toDo }: Record<string, unknown>) => [line, column, toDo]);
    expect(said).toEqual([
      [2, 'value', 'leave the value empty, give the qualifier U and the reporting limit'],
      [2, 'analyzed', 'write it as 2026-05-06T14:05:00-05:00'],
      [2, 'casNumber', 'compare it with the report; benzene is 71-43-2'],
      [2, 'qualifiers', 'write U, and give the reporting limit'],
      [3, 'sampleNumber', 'compare it with the list'],
      [4, 'casNumber', 'Benzene was ordered as 71-43-2: compare both with the report'],
      [5, 'value', 'write a point for the comma: 1.5'],
      [6, 'reportingLimit', 'give the reporting or the detection limit'],
      // its cooler is not closed: it is told as what is not on the list
      [7, 'sampleNumber', 'compare it with the list'],
    ]);
    expect(await stored()).toEqual([]);
  });

  it('are taken all or none, in the name of the laboratory, and a file that comes again adds nothing', async () => {
    const spoiled = `${GOOD}\n2605-11111,Xylenes,,much,ug/L,,,,,,,`;
    const refused = await send(spoiled);
    expect([refused.status, refused.body.code, refused.body.problems.length]).toEqual([422, 'unreadable_record', 1]);
    expect(await stored()).toEqual([]);
    const { status, body } = await send(GOOD);
    expect([status, body.written, body.results, body.problems]).toEqual([201, true, 4, []]);
    expect(body.notes).toMatchObject([
      { line: 5, column: 'unit', note: expect.stringContaining('ordered in ug/L') },
      { line: 5, column: 'value', note: expect.stringContaining('below zero') },
    ]);
    const again = await send(GOOD);
    expect([again.status, again.body.results, again.body.alreadyThere]).toEqual([201, 0, 4]);
    const all = await stored();
    expect(all).toHaveLength(4);
    const of = (analyte: string, value?: string) => all.find((one) => one.analyte === analyte && one.value === value);
    expect(of('Benzene', '7.10')).toMatchObject({ condition: 'detected', dilution: '2', laboratory: f.ids.laboratory });
    expect(of('Toluene')).toMatchObject({ condition: 'not-detected', qualifiers: ['U'], reportingLimit: '0.5' });
    expect(of('Benzene', '0.30')).toMatchObject({ condition: 'below-reporting-limit', qualifiers: ['J', 'B'] });
    expect(of('Arsenic', '-0.2')).toMatchObject({ fraction: 'Dissolved', extracted: '2026-05-07T09:00:00-05:00' });
    const blind = (await f.office.get('/samples?limit=200')).body.items.find(
      ({ fields }: { fields: { number: string } }) => fields.number === 'DUP-1',
    );
    expect(of('Benzene', '0.30')?.sample).toBe(blind.id);
  });

  it('correct nothing: another value of the same is a problem, and the rest is taken where that is asked for', async () => {
    const changed = [
      HEAD,
      '2605-11111,Benzene,71-43-2,9.99,ug/L,,0.5,8260D,,,,',
      '2605-90909,Toluene,,1,ug/L,,0.5,8260D,,,,',
    ];
    expect((await send(changed.join('\n'))).status).toBe(422);
    const { status, body } = await send(changed.join('\n'), '?partial=true');
    expect([status, body.results, body.problems.length]).toEqual([201, 1, 1]);
    expect(body.problems[0]).toMatchObject({ line: 2, problem: expect.stringContaining('is on record') });
    const values = (await stored()).map(({ value }) => value).filter(Boolean);
    expect(values.sort()).toEqual(['-0.2', '0.30', '1', '7.10']);
  });

  it('come as spreadsheets write them: a mark, semicolons, quotation marks, CRLF, and text that looks like a formula', async () => {
    const text = [
      '\ufeffSample Number;Analyte;Value;Unit;Reporting-Limit;Remark',
      '"2605-90909";"=HYPERLINK(""x"")";"1.5";"µg/L";"0.5";"a; b',
      'and more"',
      ';;;;;',
      "2605-90909;Xylenes;'-0.5;ug/L;;",
    ].join('\r\n');
    const judged = await send(text, '?check=true');
    expect(judged.body.problems).toMatchObject([
      { line: 5, toDo: 'leave out the apostrophe that a spreadsheet puts before a sign' },
    ]);
    const { status } = await send(text, '?partial=true');
    expect(status).toBe(201);
    const kept = (await stored()).find(({ analyte }) => String(analyte).startsWith('='));
    expect(kept).toMatchObject({ analyte: '=HYPERLINK("x")', unit: 'µg/L', remark: 'a; b\r\nand more' });
  });

  it('are of a known form: columns, quotation marks, type, size and lines', async () => {
    const columns = await send('sampleNumber,result,result2\n2605-11111,1,2', '?check=true');
    expect(columns.body.problems.map(({ column }: { column: string }) => column)).toEqual(['result', 'result2', null]);
    const open = await send('sampleNumber,analyte,value,unit\n2605-11111,"Benz,1,ug/L');
    expect([open.status, open.body.code]).toEqual([400, 'unreadable_text']);
    expect((await send(Buffer.from([0x73, 0xff, 0x0a]))).body.code).toBe('unreadable_text');
    const json = await f.laboratory.post(`/laboratory/events/${f.event}/results.csv`, {});
    expect([json.status, json.body.code]).toEqual([415, 'unsupported_media']);
    const elsewhere = await f.office.post('/crews', 'name\nx', CSV);
    expect(elsewhere.status).toBe(415);
    const large = await send(`${HEAD}\n${'x'.repeat(2_100_000)}`);
    expect([large.status, large.body.limit]).toEqual([413, 'resultsBytes']);
    const long = await send(`${HEAD}\n${'9999,a,,1,ug/L,,,,,,,\n'.repeat(2_001)}`, '?check=true');
    expect([long.status, long.body.limit]).toEqual([413, 'resultsLines']);
  });

  it('are handed in by the office under its own numbers, and what it voids can be reported anew', async () => {
    const file = [HEAD, 'DUP-1,Arsenic,7440-38-2,3.0,ug/L,,1.0,6020B,Total,,,'].join('\n');
    const { ann } = f.t.firm.ids;
    expect((await send(file, '', f.office, '')).body.pointer).toBe('/typedBy');
    const first = await send(file, `?typedBy=${ann}`, f.office, '');
    expect([first.status, first.body.results]).toEqual([201, 1]);
    const { items } = (await f.office.get(`/laboratory-results?event=${f.event}`)).body;
    const one = items.find(({ fields }: { fields: { value: string } }) => fields.value === '3.0');
    expect((await f.office.post(`/laboratory-results/${one.id}/void`, { reason: 'a slip' })).status).toBe(200);
    const second = await send(file.replace('3.0', '3.1'), `?typedBy=${ann}`, f.office, '');
    expect([second.status, second.body.results]).toEqual([201, 1]);
    const values = (await stored()).map(({ value }) => value);
    expect(values.filter((value) => value === '3.1')).toHaveLength(1);
    expect((await f.other.get(`/laboratory/events/${f.event}/orders`)).status).toBe(404);
    expect((await send(GOOD, '', f.other)).status).toBe(404);
  });

  it('name a laboratory and a member of the firm, or are refused before anything is written or set aside', async () => {
    const file = [HEAD, 'DUP-1,Arsenic,7440-38-2,4.0,ug/L,,1.0,6020B,Total,,,'].join('\n');
    const { ann } = f.t.firm.ids;
    const [known, aside] = [await stored(), (await f.office.get('/set-asides')).body.items];
    for (const more of ['', '&check=true', '&partial=true']) {
      for (const laboratory of [v7(), ann]) {
        const { status, body } = await send(file, `?typedBy=${ann}&laboratory=${laboratory}${more}`, f.office, '');
        expect([status, body.code, body.pointer]).toEqual([422, 'unreadable_record', '/laboratory']);
      }
      for (const typedBy of [v7(), f.ids.laboratory]) {
        const { status, body } = await send(file, `?typedBy=${typedBy}${more}`, f.office, '');
        expect([status, body.code, body.pointer]).toEqual([422, 'unreadable_record', '/typedBy']);
      }
    }
    expect(aside).toBeInstanceOf(Array);
    expect(await stored()).toEqual(known);
    expect((await f.office.get('/set-asides')).body.items).toEqual(aside);
  });

  it('as many as a file may hold are one transaction', async () => {
    const line = (at: number) => `2605-11111,Compound ${at},,${at}.5,ug/L,,0.5,8260D,,,,`;
    const text = [HEAD, ...Array.from({ length: 2_000 }, (_, at) => line(at))].join('\n');
    const began = performance.now();
    const { status, body } = await send(text);
    console.info(`2,000 results in ${Math.round(performance.now() - began)} ms`);
    expect([status, body.results]).toEqual([201, 2_000]);
    expect(await recompute(f.t.db.pool, f.t.firm.id)).toEqual([]);
  }, 60_000);
});
