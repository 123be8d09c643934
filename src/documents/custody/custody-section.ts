import { drawLine } from '../pdf/draw-line.ts';
import { keepRoom, LINE_FACTOR, type PageFlow } from '../pdf/page-flow.ts';
import { wrapRuns } from '../pdf/runs.ts';

const SIZE_PT = 9.5;

/** A heading, kept together with the first lines of what follows. */
export function drawSection(flow: PageFlow, title: string): void {
  keepRoom(flow, SIZE_PT * LINE_FACTOR + 42);
  const [line] = wrapRuns([{ text: title, look: 'bold' }], flow.widthPt, flow.rulers(SIZE_PT));
  if (line) drawLine(flow.pdf, line, flow.leftPt, flow.yPt, SIZE_PT);
  flow.yPt += SIZE_PT * LINE_FACTOR + 2;
}
