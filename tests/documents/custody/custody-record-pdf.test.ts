import { describe, expect, it } from 'vitest';
import type { CustodyRecord } from '../../../src/documents/custody/custody-facts.ts';
import { custodyRecordPdf } from '../../../src/documents/custody/custody-record-pdf.ts';
import { withPdf } from '../support/pdf-pages.ts';
import { exampleRecord, exampleSample } from './custody-example.ts';

const flat = (text: string) => text.replace(/\s+/g, ' ');

async function pagesOf(record: CustodyRecord, paper: 'letter' | 'a4' = 'letter'): Promise<readonly string[]> {
  return withPdf(await custodyRecordPdf(record, paper), async (pages) => pages.map(({ text }) => flat(text)));
}

const { receipt: _receipt, ...untilReceived } = exampleRecord;

describe('the chain-of-custody record of a cooler', () => {
  it('tells what was sampled, when by the clocks of the site, in what, for which analyses, and who had it', async () => {
    const text = (await pagesOf(exampleRecord)).join(' ');
    for (const told of [
      'Record R-2026-05-C2, cooler C2',
      'Example Field Services',
      'Old tannery, S-17',
      'W26-113 2026-05-07 10:42 -04:00',
      'groundwater',
      'GW-113',
      '3 × glass vial with septum, 40 mL',
      'HCl to pH < 2',
      'volatile organic compounds',
      'dissolved metals, hardness',
      '10 days',
      '2 samples',
      '8 containers',
      'TRK 0042 7781',
      'C. Driver',
      'Example Laboratory',
      '4.6 °C (temperature blank)',
      'Containers counted: 8 (on this record: 8)',
      'headspace',
      'H₂SO₄',
    ]) {
      expect(text).toContain(told);
    }
  });

  it('says what is to be spiked: of which containers, and of which sample extra containers are', async () => {
    const containers = [{ count: 6, type: 'vial', analyses: ['volatiles'], spikeAnalyses: ['volatiles'] }];
    const spike = { ...exampleSample('W26-155', '2026-05-07T14:42:00Z'), isForMatrixSpike: true, spikeOf: 'W26-104' };
    const text = (
      await pagesOf({ ...exampleRecord, samples: [...exampleRecord.samples, { ...spike, containers }] })
    ).join(' ');
    expect(text).toContain('yes, of W26-104');
    expect(text).toMatch(/yes: dissolved metals/);
  });

  it('shows a corrected value as on paper: the old one, the new one, initials, date and reason', async () => {
    const text = (await pagesOf(exampleRecord)).join(' ');
    expect(text).toContain('2026-05-07 14:50 -04:00 2026-05-07 14:05 -04:00 (AB 2026-05-07: digits swapped)');
    expect(text).toContain('004421 004412 (AB 2026-05-08)');
  });

  it('keeps what was taken out after signing in sight and out of the count, and marks what was added', async () => {
    const mark = { initials: 'BR', day: '2026-05-07' };
    const sample = exampleSample('W26-155', '2026-05-07T14:42:00Z');
    const vial = { count: 1, type: 'vial', analyses: ['volatiles'] };
    const left = { ...sample, sampleNumber: 'W26-156', containers: [{ ...vial, count: 2, takenOut: mark }] };
    const came = { ...sample, containers: [{ ...vial, added: mark }] };
    const text = (await pagesOf({ ...exampleRecord, samples: [...exampleRecord.samples, came, left] })).join(' ');
    expect(text).toContain('2 × vial (taken out after signing, BR 2026-05-07)');
    expect(text).toContain('1 × vial (added after signing, BR 2026-05-07)');
    expect(text).toContain('3 samples 9 containers');
  });

  it('tells every receipt with what it says, and nothing that another one contradicts', async () => {
    const later = { receivedBy: 'E. Desk', at: '2026-05-09T15:00:00Z', temperatureC: '6.1', conditions: [] };
    const text = (await pagesOf({ ...exampleRecord, laterReceipts: [later] })).join(' ');
    for (const told of ['Receipt 1 of 2', '4.6 °C', 'headspace', 'Receipt 2 of 2', 'E. Desk', '6.1 °C']) {
      expect(text).toContain(told);
    }
    expect(text.split('Containers counted')).toHaveLength(2);
    expect(text).not.toContain('No container was reported');
    expect(text).not.toContain('incomplete');
  });

  it('says what nobody recorded, and where nobody is on record as having the cooler', async () => {
    const text = (await pagesOf(exampleRecord)).join(' ');
    expect(text).toContain('2 not recorded D. Desk');
    expect(text).toContain('The carrier has no relinquish on record; the seals were found intact.');
    const unread = { ...exampleRecord, receipt: { receivedBy: 'D. Desk', at: '2026-05-09T13:00:00Z', conditions: [] } };
    expect((await pagesOf(unread)).join(' ')).toContain(
      'Temperature: not recorded: the receipt is incomplete until it is',
    );
  });

  it('leaves room for a pen until the laboratory has received the cooler', async () => {
    const text = (await pagesOf(untilReceived)).join(' ');
    expect(text).toContain('Received by: ____');
    expect(text).not.toContain('D. Desk, Example Laboratory');
  });

  it('goes over pages with the heading repeated, and counts them', async () => {
    const samples = Array.from({ length: 60 }, (_, at) => exampleSample(`W26-${200 + at}`, '2026-05-07T14:42:00Z'));
    const pages = await pagesOf({ ...exampleRecord, samples });
    expect(pages.length).toBeGreaterThan(3);
    pages.forEach((text, at) => {
      expect(text).toContain(`page ${at + 1} of ${pages.length}`);
    });
    const withSamples = pages.filter((text) => /W26-2\d\d/.test(text));
    expect(withSamples.every((text) => text.includes('Sample number') && text.includes('Analyses'))).toBe(true);
    expect(samples.every(({ sampleNumber }) => pages.some((text) => text.includes(String(sampleNumber))))).toBe(true);
  });

  it('shows nothing of what a blind sample repeats, neither in words nor by its place', async () => {
    const parent = exampleSample('W26-190', '2026-05-07T14:42:00Z');
    const blind = {
      ...exampleSample('W26-150', '2026-05-07T16:00:00Z'),
      of: 'parent-W26-190',
      type: 'blind-duplicate',
    };
    const between = exampleSample('W26-170', '2026-05-07T15:00:00Z');
    const bytes = await custodyRecordPdf({ ...exampleRecord, samples: [parent, blind, between] });
    const other = await custodyRecordPdf({
      ...exampleRecord,
      samples: [between, parent, exampleSample('W26-150', '2026-05-07T16:00:00Z')],
    });
    expect(Buffer.compare(bytes, other)).toBe(0);
    await withPdf(bytes, async (pages) => {
      expect(pages.map(({ text }) => text).join(' ')).not.toMatch(/parent-|blind/);
    });
  });

  it('gives the same bytes for the same facts', async () => {
    const [first, second] = [
      await custodyRecordPdf(exampleRecord),
      await custodyRecordPdf(structuredClone(exampleRecord)),
    ];
    expect(Buffer.compare(first, second)).toBe(0);
  });

  it('fits both papers', async () => {
    expect((await pagesOf(exampleRecord, 'a4')).join(' ')).toContain('W26-104');
  });

  it('shows all of a text of any length, and breaks on none', async () => {
    const endless = `\u0000\u202e\ud800 العربية 漢字 😀 ${'A'.repeat(2_000)} ${'word '.repeat(400)} LASTWORD`;
    const pages = await pagesOf({
      ...exampleRecord,
      recordNumber: endless,
      site: { name: endless },
      cooler: { number: endless, trackingNumber: endless },
      samples: [{ ...exampleSample('W26-1', '2026-05-07T14:42:00Z'), samplingPoint: endless, remark: endless }],
      pairs: [{ relinquished: { name: endless }, reason: endless }],
      remarks: [endless],
    });
    expect(pages.join(' ').match(/LASTWORD/g)?.length).toBeGreaterThanOrEqual(7);
    expect(pages.at(-1)).toContain(`page ${pages.length} of ${pages.length}`);
    expect(pages.join(' ')).not.toContain('\u0000');
  });

  it('says what is wrong with an instant that is none', async () => {
    await expect(custodyRecordPdf({ ...exampleRecord, madeAt: 'soon' })).rejects.toThrow(
      /needs the instant at which it was made, not "soon"/,
    );
  });
});
