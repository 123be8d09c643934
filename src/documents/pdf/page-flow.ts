import { drawLine } from './draw-line.ts';
import type { Pdf, PdfPaper } from './new-pdf.ts';
import { type Ruler, type Run, rulerOf, wrapRuns } from './runs.ts';

export const LINE_FACTOR = 1.25;

/** Where the next thing is drawn, from page to page. */
export interface PageFlow {
  readonly pdf: Pdf;
  readonly leftPt: number;
  readonly widthPt: number;
  readonly topPt: number;
  readonly bottomPt: number;
  readonly rulers: (sizePt: number) => Ruler;
  yPt: number;
}

export interface PageEdges {
  readonly paper: PdfPaper;
  /** Room for what stands on every page, above and below. */
  readonly headPt: number;
  readonly footPt: number;
}

export function nextPage(flow: PageFlow): void {
  flow.pdf.addPage();
  flow.yPt = flow.topPt;
}

export function newFlow(pdf: Pdf, { paper, headPt, footPt }: PageEdges): PageFlow {
  const known = new Map<number, Ruler>();
  const rulers = (sizePt: number): Ruler => {
    const ruler = known.get(sizePt) ?? rulerOf(pdf, sizePt);
    known.set(sizePt, ruler);
    return ruler;
  };
  const flow: PageFlow = {
    pdf,
    leftPt: paper.marginPt,
    widthPt: paper.widthPt - 2 * paper.marginPt,
    topPt: paper.marginPt + headPt,
    bottomPt: paper.heightPt - paper.marginPt - footPt,
    rulers,
    yPt: 0,
  };
  nextPage(flow);
  return flow;
}

export function roomPt(flow: PageFlow): number {
  return flow.bottomPt - flow.yPt;
}

/** Goes to the next page where less room is left than is needed. */
export function keepRoom(flow: PageFlow, heightPt: number): void {
  if (roomPt(flow) < heightPt) nextPage(flow);
}

/** A paragraph over the whole width; it may go over pages. */
export function drawParagraph(flow: PageFlow, runs: readonly Run[], sizePt: number): void {
  const heightPt = sizePt * LINE_FACTOR;
  for (const line of wrapRuns(runs, flow.widthPt, flow.rulers(sizePt))) {
    keepRoom(flow, heightPt);
    drawLine(flow.pdf, line, flow.leftPt, flow.yPt, sizePt);
    flow.yPt += heightPt;
  }
}
