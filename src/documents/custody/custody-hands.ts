import { drawTable, type TableColumn, type TableRow } from '../pdf/draw-table.ts';
import { drawParagraph, type PageFlow } from '../pdf/page-flow.ts';
import type { Run } from '../pdf/runs.ts';
import { localTime } from '../time/local-time.ts';
import type { CustodyPair, CustodyRecord, CustodySigner } from './custody-facts.ts';
import { drawSection } from './custody-section.ts';
import { NOT_RECORDED } from './written-runs.ts';

const SIZE_PT = 8;

const PAIR_COLUMNS: readonly TableColumn[] = [
  { title: '', share: 3 },
  { title: 'Relinquished by', share: 15 },
  { title: 'Organization', share: 13 },
  { title: 'Date and time', share: 12 },
  { title: 'Received by', share: 15 },
  { title: 'Organization', share: 13 },
  { title: 'Date and time', share: 12 },
  { title: 'Place, reason', share: 14 },
];

/** Pairs left open for a pen, as long as the laboratory has not received the cooler: a carrier signs on paper. */
const OPEN_PAIRS = 2;

function signerCells(signer: CustodySigner | undefined, timeZone: string): readonly (readonly Run[])[] {
  if (!signer) return [[NOT_RECORDED], [], []];
  return [
    [{ text: signer.name, look: 'bold' }],
    signer.organization ? [{ text: signer.organization }] : [NOT_RECORDED],
    signer.at ? [{ text: localTime(signer.at, timeZone) }] : [NOT_RECORDED],
  ];
}

function pairRow(pair: CustodyPair, at: number, timeZone: string): TableRow {
  const why = [pair.place, pair.reason].filter((part) => part).join(', ');
  const { relinquished, received } = pair;
  return {
    cells: [
      [{ text: String(at + 1) }],
      ...signerCells(relinquished, timeZone),
      ...signerCells(received, timeZone),
      [{ text: why }],
    ],
  };
}

function openRow(at: number): TableRow {
  return { cells: [[{ text: String(at + 1) }], ...PAIR_COLUMNS.slice(1).map(() => [])], leastLines: 2 };
}

function drawCollectors(flow: PageFlow, { collectors, timeZone }: CustodyRecord): void {
  drawSection(flow, 'Collected by');
  if (collectors.length === 0) drawParagraph(flow, [NOT_RECORDED], SIZE_PT);
  for (const { name, organization, initials, at } of collectors) {
    const rest = [
      organization,
      initials && `initials ${initials}`,
      at && `signed as collector ${localTime(at, timeZone)}`,
    ];
    const told = rest.filter((part) => part).map((part) => `, ${part}`);
    drawParagraph(flow, [{ text: name, look: 'bold' }, { text: told.join('') }], SIZE_PT);
  }
  flow.yPt += 6;
}

function drawGaps(flow: PageFlow, { gaps, timeZone }: CustodyRecord): void {
  drawSection(flow, 'Gaps in custody');
  if (gaps.length === 0) drawParagraph(flow, [{ text: 'None is known from what was recorded.' }], SIZE_PT);
  for (const { from, until, sentence } of gaps) {
    const time = (at: string | undefined) => (at ? localTime(at, timeZone) : 'not recorded');
    drawParagraph(flow, [{ text: `${time(from)} to ${time(until)}: `, look: 'bold' }, { text: sentence }], SIZE_PT);
  }
  flow.yPt += 6;
}

/** Who had the cooler from when to when, in pairs, and where nobody is on record. */
export function drawHands(flow: PageFlow, record: CustodyRecord): void {
  drawCollectors(flow, record);
  drawSection(flow, 'Custody of the cooler');
  const told = record.pairs.map((pair, at) => pairRow(pair, at, record.timeZone));
  const open = record.receipt ? 0 : OPEN_PAIRS;
  const rows = [...told, ...Array.from({ length: open }, (_, at) => openRow(told.length + at))];
  if (rows.length === 0) drawParagraph(flow, [NOT_RECORDED], SIZE_PT);
  else drawTable(flow, PAIR_COLUMNS, rows, SIZE_PT);
  flow.yPt += 8;
  drawGaps(flow, record);
}
