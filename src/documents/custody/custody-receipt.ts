import { drawColumns, type Told } from '../pdf/draw-columns.ts';
import { drawTable, type TableColumn } from '../pdf/draw-table.ts';
import { drawParagraph, type PageFlow } from '../pdf/page-flow.ts';
import type { Run } from '../pdf/runs.ts';
import { localTime } from '../time/local-time.ts';
import type { CustodyRecord, LaboratoryReceipt } from './custody-facts.ts';
import { containersOf } from './custody-samples.ts';
import { drawSection } from './custody-section.ts';
import { toldRuns } from './written-runs.ts';

const SIZE_PT = 8;

const SEAL_COLUMNS: readonly TableColumn[] = [
  { title: 'Seal number', share: 10 },
  { title: 'Applied', share: 12 },
  { title: 'By', share: 12 },
  { title: 'Broken', share: 12 },
];

const CONDITION_COLUMNS: readonly TableColumn[] = [
  { title: 'Container', share: 12 },
  { title: 'Condition', share: 10 },
  { title: 'Remark', share: 24 },
];

/** Where nobody wrote anything yet, a line is left for a pen. */
const BLANK = '______________________';

export function drawSeals(flow: PageFlow, { seals, timeZone }: CustodyRecord): void {
  drawSection(flow, 'Custody seals');
  if (seals.length === 0) drawParagraph(flow, [{ text: 'No seal is on record.' }], SIZE_PT);
  const time = (at: string | undefined) => toldRuns(at && localTime(at, timeZone), timeZone);
  const rows = seals.map(({ number, appliedAt, by, brokenAt }) => ({
    cells: [
      toldRuns(number, timeZone),
      time(appliedAt),
      toldRuns(by, timeZone),
      brokenAt ? time(brokenAt) : [{ text: 'not on record as broken' }],
    ],
  }));
  if (rows.length > 0) drawTable(flow, SEAL_COLUMNS, rows, SIZE_PT);
  flow.yPt += 8;
}

function answer(value: boolean | undefined): string {
  if (value === undefined) return 'not recorded';
  return value ? 'yes' : 'no';
}

function temperature({ temperatureC, temperatureOf }: LaboratoryReceipt): string {
  // a receipt without a temperature is incomplete, which says nothing against the samples
  if (temperatureC === undefined) return 'not recorded: the receipt is incomplete until it is';
  return temperatureOf ? `${temperatureC} °C (${temperatureOf})` : `${temperatureC} °C`;
}

type Fact = readonly [title: string, text: string, isRecorded: boolean];

function receiptFacts(receipt: LaboratoryReceipt, record: CustodyRecord): readonly Fact[] {
  const { laboratoryId, temperatureC, ice, sealsIntact, sealNumbers = [], containersCounted: counted } = receipt;
  return [
    ['Received by', [receipt.receivedBy, receipt.organization].filter((part) => part).join(', '), true],
    ['Date and time', localTime(receipt.at, record.timeZone), true],
    ['Laboratory number', laboratoryId ?? 'not recorded', laboratoryId !== undefined],
    ['Temperature', temperature(receipt), temperatureC !== undefined],
    ['Ice present', answer(ice), ice !== undefined],
    ['Seals intact', answer(sealsIntact), sealsIntact !== undefined],
    ['Seal numbers', sealNumbers.join(', ') || 'not recorded', sealNumbers.length > 0],
    [
      'Containers counted',
      `${counted ?? 'not recorded'} (on this record: ${containersOf(record)})`,
      counted !== undefined,
    ],
  ];
}

/** Of several, each with what it says; what none of them says is told once, at the first. */
function factsOf(receipts: readonly LaboratoryReceipt[], record: CustodyRecord): readonly (readonly Fact[])[] {
  const all = receipts.map((one) => receiptFacts(one, record));
  const recorded = new Set(all.flat().flatMap(([title, , isRecorded]) => (isRecorded ? [title] : [])));
  return all.map((facts, at) =>
    facts.filter(([title, , isRecorded]) => isRecorded || (at === 0 && !recorded.has(title))),
  );
}

const BLANK_FACTS: readonly string[] = [
  'Received by',
  'Date and time',
  'Laboratory number',
  'Temperature, °C, and of what',
  'Ice present',
  'Seals intact',
  'Seal numbers',
  'Containers counted',
  'Condition',
];

function drawConditions(flow: PageFlow, { conditions, remark }: LaboratoryReceipt): void {
  const said = (text: string | undefined): readonly Run[] => (text ? [{ text }] : []);
  const rows = conditions.map((one) => ({ cells: [said(one.label), said(one.condition), said(one.remark)] }));
  flow.yPt += 4;
  if (rows.length > 0) drawTable(flow, CONDITION_COLUMNS, rows, SIZE_PT);
  if (remark) drawParagraph(flow, [{ text: 'Remark: ', look: 'bold' }, { text: remark }], SIZE_PT);
}

function drawFacts(flow: PageFlow, facts: readonly (readonly [title: string, text: string, ...unknown[]])[]): void {
  const told = facts.map(([title, text]): Told => [title, [{ text }]]);
  const third = Math.ceil(told.length / 3);
  drawColumns(flow, [told.slice(0, third), told.slice(third, 2 * third), told.slice(2 * third)], SIZE_PT);
}

/** The laboratory's side: what it wrote down, every receipt of it, or room for it. */
export function drawReceipt(flow: PageFlow, record: CustodyRecord): void {
  drawSection(flow, 'At the laboratory');
  const receipts = record.receipt ? [record.receipt, ...(record.laterReceipts ?? [])] : [];
  if (receipts.length === 0)
    drawFacts(
      flow,
      BLANK_FACTS.map((title) => [title, BLANK] as const),
    );
  const facts = factsOf(receipts, record);
  for (const [at, receipt] of receipts.entries()) {
    const number = `Receipt ${at + 1} of ${receipts.length}`;
    if (receipts.length > 1) drawParagraph(flow, [{ text: number, look: 'bold' }], SIZE_PT);
    drawFacts(flow, facts[at] ?? []);
    drawConditions(flow, receipt);
  }
  if (receipts.length > 0 && receipts.every(({ conditions }) => conditions.length === 0)) {
    drawParagraph(flow, [{ text: 'No container was reported as other than in good condition.' }], SIZE_PT);
  }
  flow.yPt += 8;
}
