import { createHash } from 'node:crypto';
import readWorkbook from 'read-excel-file/node';
import { describe, expect, it } from 'vitest';
import { LIST_COLUMNS } from '../../../src/documents/sample-list/list-columns.ts';
import { sampleListCsv } from '../../../src/documents/sample-list/sample-list-csv.ts';
import { sampleListJson } from '../../../src/documents/sample-list/sample-list-json.ts';
import { sampleListXlsx } from '../../../src/documents/sample-list/sample-list-xlsx.ts';
import type { SampleListRow } from '../../../src/rules/laboratory/list-row.ts';
import { readCsv } from '../read-csv.ts';

function container(at: number, more: Partial<SampleListRow> = {}): SampleListRow {
  const number = String(at).padStart(5, '0');
  return {
    sampleNumber: `W26-${number}`,
    labelId: `W26-${number}-01`,
    labelTime: '2026-11-01T05:30:00Z',
    timeZone: 'America/New_York',
    matrix: 'groundwater',
    samplingPoint: 'GW-17',
    containerType: 'glass vial',
    volumeMl: '40',
    preservative: 'HCl',
    filtered: false,
    analyses: ['volatile organic compounds', 'methane'],
    standing: 'filled',
    ph: '1.90',
    temperatureC: '-0.20',
    ...more,
  };
}

const HOSTILE = [
  '=1+1',
  '+cmd',
  '-cmd',
  '@SUM(A1)',
  '\t=1',
  'a,"b"\r\nc',
  '<&>\u0001',
  '_x0041_',
  ' edges ',
  'Å µ 漢 😀',
];
const hostile = HOSTILE.map((remark, at) => container(at, { remark, samplingPoint: remark }));

async function all<T>(stream: AsyncIterable<T>): Promise<T[]> {
  const parts: T[] = [];
  for await (const part of stream) parts.push(part);
  return parts;
}

const csvOf = async (rows: Iterable<SampleListRow>) => (await all(sampleListCsv(rows))).join('');
const jsonOf = async (rows: Iterable<SampleListRow>) => JSON.parse((await all(sampleListJson(rows))).join(''));
const xlsxOf = async (rows: Iterable<SampleListRow>) => Buffer.concat(await all(sampleListXlsx(rows)));

const at = (name: string) => LIST_COLUMNS.findIndex((column) => column.name === name);

describe('the sample list', () => {
  it('is read back from CSV as it was, figures below zero and all; text that begins a formula is made harmless', async () => {
    const [heading, ...rows] = readCsv(await csvOf(hostile));
    expect(heading).toEqual(LIST_COLUMNS.map(({ name }) => name));
    expect(rows).toHaveLength(HOSTILE.length + 1);
    HOSTILE.forEach((remark, row) => {
      const isFormula = /^[\t\r\n ]*[=+\-@]/.test(remark);
      expect(rows[row]?.[at('remark')]).toBe(isFormula ? `'${remark}` : remark);
      expect(rows[row]?.[at('temperatureC')]).toBe('-0.20');
      expect(rows[row]?.[at('labelTime')]).toBe('2026-11-01 01:30 -04:00');
    });
  });

  it('says at its end how many rows there are, and the hash of all before', async () => {
    const csv = await csvOf(hostile);
    const rows = readCsv(csv);
    const [end, count, sum] = rows.at(-1) ?? [];
    expect([end, count]).toEqual(['end of list', String(HOSTILE.length)]);
    const before = csv.slice(0, csv.indexOf('end of list'));
    expect(sum).toBe(`sha256:${createHash('sha256').update(before).digest('hex')}`);
    const changed = await csvOf([container(0, { temperatureC: '-0.21' })]);
    expect(changed.split('sha256:')[1]).not.toBe((await csvOf([container(0)])).split('sha256:')[1]);
  });

  it('is the same in JSON, with the same hash', async () => {
    const list = await jsonOf(hostile);
    expect(list.rows.map((row: { remark: string }) => row.remark)).toEqual(HOSTILE);
    expect(list.rows[0]).toMatchObject({
      temperatureC: '-0.20',
      ph: '1.90',
      analyses: 'volatile organic compounds; methane',
    });
    expect(list.rows[0]).not.toHaveProperty('cooler');
    const sum = (await csvOf(hostile)).split('sha256:')[1]?.slice(0, 64);
    expect(list.trailer).toEqual({ count: HOSTILE.length, sha256: sum });
  });

  it('is opened by another reader of workbooks: figures are numbers, text is no formula', async () => {
    const [sheet] = await readWorkbook(await xlsxOf(hostile), { trim: false });
    const rows = sheet?.data ?? [];
    expect(rows[0]).toEqual(LIST_COLUMNS.map(({ name }) => name));
    expect(rows[1]?.[at('temperatureC')]).toBe(-0.2);
    expect(rows[1]?.[at('volumeMl')]).toBe(40);
    // U+0001 stands in no XML
    const shown = HOSTILE.map((text) => text.replace('\u0001', '\ufffd'));
    expect(rows.slice(1, -1).map((row) => row[at('remark')])).toEqual(shown);
    const sum = (await csvOf(hostile)).split('sha256:')[1]?.slice(0, 64);
    expect(rows.at(-1)?.slice(0, 3)).toEqual(['end of list', String(HOSTILE.length), `sha256:${sum}`]);
  });

  it('keeps as text in a workbook what a spreadsheet would round, and shows as many decimals as were written', async () => {
    const rows = [container(0, { ph: '7.1234567890123456', temperatureC: '-0.20' }), container(1, { ph: '1e3' })];
    const [sheet] = await readWorkbook(await xlsxOf(rows));
    expect(sheet?.data.slice(1, 3).map((row) => row[at('ph')])).toEqual(['7.1234567890123456', '1e3']);
  });

  it('is empty and whole where there is no container', async () => {
    expect(
      readCsv(await csvOf([]))
        .at(-1)
        ?.slice(0, 2),
    ).toEqual(['end of list', '0']);
    expect(await jsonOf([])).toMatchObject({ rows: [], trailer: { count: 0 } });
    expect((await readWorkbook(await xlsxOf([])))[0]?.data).toHaveLength(2);
  });

  it('is the same bytes for the same rows, and refuses rows out of order or given twice', async () => {
    expect(Buffer.compare(await xlsxOf(hostile), await xlsxOf(hostile))).toBe(0);
    await expect(csvOf([container(2), container(1)])).rejects.toThrow(
      /"W26-00001" \/ "W26-00001-01" came after "W26-00002"/,
    );
    await expect(jsonOf([container(1), container(1)])).rejects.toThrow(/not in order/);
  });

  it.each([
    ['CSV', sampleListCsv, 3],
    ['JSON', sampleListJson, 3],
    // the packer works in blocks
    ['XLSX', sampleListXlsx, 1_500],
  ] as const)(
    'streams 5,000 containers as %s: rows are drawn as they are written, never gathered',
    async (_, make, mostAhead) => {
      let drawn = 0;
      function* rows() {
        for (; drawn < 5_000; drawn += 1) yield container(drawn);
      }
      let ahead = 0;
      let atLast = 0;
      let largest = 0;
      for await (const part of make(rows())) {
        ahead = Math.max(ahead, drawn - atLast);
        atLast = drawn;
        largest = Math.max(largest, part.length);
      }
      expect(drawn).toBe(5_000);
      expect(ahead).toBeLessThanOrEqual(mostAhead);
      expect(largest).toBeLessThan(200_000);
    },
  );
});
