import { expect, it } from 'vitest';
import type { LaboratoryReceipt } from '../../../src/documents/custody/custody-facts.ts';
import { custodyRecordPdf } from '../../../src/documents/custody/custody-record-pdf.ts';
import { withPdf } from '../support/pdf-pages.ts';
import { exampleRecord } from './custody-example.ts';

async function textOf(receipt: LaboratoryReceipt, ...laterReceipts: readonly LaboratoryReceipt[]): Promise<string> {
  const bytes = await custodyRecordPdf({ ...exampleRecord, receipt, laterReceipts });
  return withPdf(bytes, async (pages) => pages.map(({ text }) => text.replace(/\s+/g, ' ')).join(' '));
}

it('of several receipts it is told once what none of them says, and nothing that one of them says', async () => {
  const first = { receivedBy: 'D. Desk', at: '2026-05-09T13:00:00Z', conditions: [] };
  const text = await textOf(first, { ...first, sealsIntact: true }, { ...first, containersCounted: 7 });
  expect(text).toContain('Seals intact: yes');
  expect(text).not.toContain('Seals intact: not recorded');
  expect(text).toContain('Containers counted: 7 ');
  expect(text).not.toContain('Containers counted: not recorded');
  expect(text.split('Ice present: not recorded')).toHaveLength(2);
  expect(text.split('Temperature: not recorded')).toHaveLength(2);
});
