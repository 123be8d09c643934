import { drawLine } from './draw-line.ts';
import { LINE_FACTOR, nextPage, type PageFlow, roomPt } from './page-flow.ts';
import { type Line, type Run, wrapRuns } from './runs.ts';

export interface TableColumn {
  readonly title: string;
  /** Its part of the width; the parts are shared out. */
  readonly share: number;
}

export interface TableRow {
  readonly cells: readonly (readonly Run[])[];
  /** A thicker line above: something new begins. */
  readonly begins?: boolean;
  /** Room for a pen. */
  readonly leastLines?: number;
}

const PAD_PT = 2.5;
const HEAD_FILL = '#e6e6e6';

interface Grid {
  readonly flow: PageFlow;
  readonly sizePt: number;
  readonly linePt: number;
  readonly lefts: readonly number[];
  readonly widths: readonly number[];
}

function gridOf(flow: PageFlow, columns: readonly TableColumn[], sizePt: number): Grid {
  const sum = columns.reduce((all, { share }) => all + share, 0);
  const widths = columns.map(({ share }) => (share / sum) * flow.widthPt);
  const lefts = widths.map((_, at) => flow.leftPt + widths.slice(0, at).reduce((all, one) => all + one, 0));
  return { flow, sizePt, linePt: sizePt * LINE_FACTOR, lefts, widths };
}

function cellLines(grid: Grid, cells: TableRow['cells']): readonly (readonly Line[])[] {
  const ruler = grid.flow.rulers(grid.sizePt);
  return cells.map((runs, at) => wrapRuns(runs, (grid.widths[at] ?? 0) - 2 * PAD_PT, ruler));
}

function frame(grid: Grid, heightPt: number, begins: boolean): void {
  const { pdf, leftPt, widthPt, yPt } = grid.flow;
  pdf.lineWidth(0.4).strokeColor('#000000');
  for (const left of [...grid.lefts, leftPt + widthPt])
    pdf
      .moveTo(left, yPt)
      .lineTo(left, yPt + heightPt)
      .stroke();
  pdf
    .moveTo(leftPt, yPt + heightPt)
    .lineTo(leftPt + widthPt, yPt + heightPt)
    .stroke();
  pdf
    .lineWidth(begins ? 1 : 0.4)
    .moveTo(leftPt, yPt)
    .lineTo(leftPt + widthPt, yPt)
    .stroke();
}

/** Draws the lines of a row from one on, as many as asked for. */
function band(grid: Grid, cells: readonly (readonly Line[])[], from: number, count: number, begins: boolean): void {
  const { flow, sizePt, linePt } = grid;
  const heightPt = count * linePt + 2 * PAD_PT;
  frame(grid, heightPt, begins);
  cells.forEach((lines, column) => {
    lines.slice(from, from + count).forEach((line, at) => {
      drawLine(flow.pdf, line, (grid.lefts[column] ?? 0) + PAD_PT, flow.yPt + PAD_PT + at * linePt, sizePt);
    });
  });
  flow.yPt += heightPt;
}

function longest(cells: readonly (readonly Line[])[]): number {
  return Math.max(1, ...cells.map((lines) => lines.length));
}

function drawHeading(grid: Grid, columns: readonly TableColumn[]): void {
  const cells = cellLines(
    grid,
    columns.map(({ title }) => [{ text: title, look: 'bold' as const }]),
  );
  const count = longest(cells);
  const { pdf, leftPt, widthPt, yPt } = grid.flow;
  pdf.rect(leftPt, yPt, widthPt, count * grid.linePt + 2 * PAD_PT).fill(HEAD_FILL);
  band(grid, cells, 0, count, true);
}

/** A row stays on one page where it can; one that is longer than a page goes on below the repeated heading. */
function drawRow(grid: Grid, columns: readonly TableColumn[], row: TableRow): void {
  const { flow, linePt } = grid;
  const cells = cellLines(grid, row.cells);
  const all = Math.max(longest(cells), row.leastLines ?? 1);
  const linesLeft = () => Math.floor((roomPt(flow) - 2 * PAD_PT) / linePt);
  let done = 0;
  const turn = () => {
    nextPage(flow);
    drawHeading(grid, columns);
  };
  if (linesLeft() < all) turn();
  while (done < all) {
    const count = Math.min(Math.max(linesLeft(), 1), all - done);
    band(grid, cells, done, count, done === 0 && row.begins !== false);
    done += count;
    if (done < all) turn();
  }
}

/** A table that flows over pages; its heading stands on each. */
export function drawTable(
  flow: PageFlow,
  columns: readonly TableColumn[],
  rows: readonly TableRow[],
  sizePt: number,
): void {
  const grid = gridOf(flow, columns, sizePt);
  const [first] = rows;
  const heads = longest(
    cellLines(
      grid,
      columns.map(({ title }) => [{ text: title, look: 'bold' as const }]),
    ),
  );
  const firstLines = first ? Math.min(longest(cellLines(grid, first.cells)), 6) : 0;
  // a heading alone at the foot of a page says nothing
  if (roomPt(flow) < (heads + firstLines) * grid.linePt + 4 * PAD_PT) nextPage(flow);
  drawHeading(grid, columns);
  for (const row of rows) drawRow(grid, columns, row);
}
