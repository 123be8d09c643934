import { drawLine } from '../pdf/draw-line.ts';
import { onEachPage } from '../pdf/each-page.ts';
import { bytesOfPdf, newPdf, type PdfPaper } from '../pdf/new-pdf.ts';
import { lineWidth, oneLine } from '../pdf/one-line.ts';
import { drawParagraph, newFlow, type PageFlow } from '../pdf/page-flow.ts';
import type { Run } from '../pdf/runs.ts';
import { localTime } from '../time/local-time.ts';
import { drawAbout } from './custody-about.ts';
import type { CustodyRecord } from './custody-facts.ts';
import { drawHands } from './custody-hands.ts';
import { drawReceipt, drawSeals } from './custody-receipt.ts';
import { drawSamples } from './custody-samples.ts';
import { drawSection } from './custody-section.ts';
import { shown } from './written-runs.ts';

/** Sheets on their side: ten columns do not fit upright. ISO 216, and ANSI/ASME Y14.1 size A. */
const PAPERS = {
  letter: { widthPt: 792, heightPt: 612, marginPt: 30 },
  a4: { widthPt: 841.89, heightPt: 595.28, marginPt: 30 },
} as const satisfies Record<string, PdfPaper>;

export type CustodyPaper = keyof typeof PAPERS;

const TITLE_PT = 13;
const NOTE_PT = 8;

function drawHead(flow: PageFlow, record: CustodyRecord, page: number, pages: number, marginPt: number): void {
  const title: Run = { text: 'Chain of custody', look: 'bold' };
  const which: Run = { text: `Record ${record.recordNumber}, cooler ${shown(record.cooler.number)}` };
  const number = oneLine(flow.rulers(NOTE_PT), [{ text: `page ${page} of ${pages}`, look: 'bold' }], 120);
  const right = flow.leftPt + flow.widthPt;
  const titleLine = oneLine(flow.rulers(TITLE_PT), [title], 160);
  drawLine(flow.pdf, titleLine, flow.leftPt, marginPt, TITLE_PT);
  const left = flow.leftPt + lineWidth(titleLine) + 14;
  drawLine(flow.pdf, oneLine(flow.rulers(NOTE_PT), [which], right - left - 90), left, marginPt + 4, NOTE_PT);
  drawLine(flow.pdf, number, right - lineWidth(number), marginPt + 4, NOTE_PT);
  flow.pdf
    .lineWidth(1)
    .strokeColor('#000000')
    .moveTo(flow.leftPt, marginPt + 20)
    .lineTo(right, marginPt + 20)
    .stroke();
}

function drawFoot(flow: PageFlow, { timeZone, madeAt }: CustodyRecord, yPt: number): void {
  const text = `Times by the clocks of ${timeZone}, with their offset from UTC. This copy was made ${localTime(madeAt, timeZone)}.`;
  const struck = ' Struck through: what was written before it was corrected.';
  drawLine(
    flow.pdf,
    oneLine(flow.rulers(7), [{ text: text + struck, look: 'quiet' }], flow.widthPt),
    flow.leftPt,
    yPt,
    7,
  );
}

function drawRemarks(flow: PageFlow, { remarks }: CustodyRecord): void {
  if (remarks.length === 0) return;
  drawSection(flow, 'Remarks');
  for (const text of remarks) drawParagraph(flow, [{ text }], NOTE_PT);
}

/** The chain-of-custody record of one cooler: the same facts give the same bytes. */
export async function custodyRecordPdf(record: CustodyRecord, paperName: CustodyPaper = 'letter'): Promise<Uint8Array> {
  const paper = PAPERS[paperName];
  const title = `Chain of custody ${record.recordNumber}`;
  const pdf = newPdf(paper, { title, author: record.firm.name, madeAt: record.madeAt });
  const flow = newFlow(pdf, { paper, headPt: 28, footPt: 14 });
  drawAbout(flow, record);
  drawSamples(flow, record);
  drawSeals(flow, record);
  drawHands(flow, record);
  drawReceipt(flow, record);
  drawRemarks(flow, record);
  onEachPage(pdf, (page, pages) => {
    drawHead(flow, record, page, pages, paper.marginPt);
    drawFoot(flow, record, paper.heightPt - paper.marginPt - 8);
  });
  return bytesOfPdf(pdf);
}
