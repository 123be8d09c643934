import { drawLine } from './draw-line.ts';
import { keepRoom, LINE_FACTOR, type PageFlow } from './page-flow.ts';
import { type Line, type Run, wrapRuns } from './runs.ts';

/** A title, and what is told behind it. */
export type Told = readonly [title: string, runs: readonly Run[]];

const GUTTER_PT = 14;

function columnLines(flow: PageFlow, all: readonly Told[], widthPt: number, sizePt: number): readonly Line[] {
  const ruler = flow.rulers(sizePt);
  return all.flatMap(([title, runs]) => wrapRuns([{ text: `${title}: `, look: 'bold' }, ...runs], widthPt, ruler));
}

/** Columns of titles in bold with what is told behind them; they go over a page together. */
export function drawColumns(flow: PageFlow, told: readonly (readonly Told[])[], sizePt: number): void {
  const widthPt = (flow.widthPt - (told.length - 1) * GUTTER_PT) / told.length;
  const columns = told.map((all) => columnLines(flow, all, widthPt, sizePt));
  const linePt = sizePt * LINE_FACTOR;
  const longest = Math.max(0, ...columns.map((lines) => lines.length));
  for (let at = 0; at < longest; at += 1) {
    keepRoom(flow, linePt);
    columns.forEach((lines, column) => {
      const line = lines[at];
      if (line) drawLine(flow.pdf, line, flow.leftPt + column * (widthPt + GUTTER_PT), flow.yPt, sizePt);
    });
    flow.yPt += linePt;
  }
}
