import { drawLine } from '../pdf/draw-line.ts';
import type { Pdf } from '../pdf/new-pdf.ts';
import { oneLine } from '../pdf/one-line.ts';
import { LINE_FACTOR } from '../pdf/page-flow.ts';
import { type Line, type Ruler, type Run, wrapRuns } from '../pdf/runs.ts';
import { localTime } from '../time/local-time.ts';
import { labelCode } from './label-code.ts';
import type { ContainerLabel } from './label-facts.ts';
import type { LabelPlace } from './label-media.ts';

const PAD_PT = 5;
/** A code of a third of the width, and no wider than 60 pt, leaves room for words and is read from a hand's distance. */
const CODE_SHARE = 0.32;
const WIDEST_CODE_PT = 60;
/** ISO/IEC 16022 asks for a clear border of one square. */
const CLEAR_SQUARES = 1;
const NUMBER_PT = 11;
const ID_PT = 6.5;
/** The largest letters with which all fits are taken. */
const SIZES_PT = [8.5, 8, 7.5, 7, 6.5, 6, 5.5, 5];

const PEN = '________';

export type Rulers = (sizePt: number) => Ruler;

/** What the laboratory spikes, and of which sample the water is. */
function spikeText({ spikeOf, spikeAnalyses = [] }: ContainerLabel): string {
  return spikeOf === undefined ? spikeAnalyses.join(', ') : `of ${spikeOf}`;
}

function linesOf(label: ContainerLabel, timeZone: string): readonly (readonly Run[])[] {
  const named = (title: string, text: string): readonly Run[] => [{ text: `${title} ` }, { text, look: 'bold' }];
  const { labelTime, filtered, container, project } = label;
  const filtration = filtered === undefined ? '' : filtered ? ', filtered' : ', not filtered';
  return [
    [{ text: project ? `${label.site}, ${project}` : label.site }],
    labelTime ? [{ text: localTime(labelTime, timeZone), look: 'bold' }] : [{ text: `Date ${PEN}${PEN} Time ${PEN}` }],
    named('Sampler', label.samplerInitials ?? PEN),
    named('Matrix', `${label.matrix}${filtration}`),
    ...(container ? [named('Container', container)] : []),
    named('Preservative', label.preservative ?? `${PEN}${PEN}`),
    // above what may be cut off: without it the laboratory spikes another bottle
    ...(label.spikeAnalyses ? [named('MS/MSD', spikeText(label))] : []),
    named('Analyses', label.analyses.join(', ')),
  ];
}

interface Fitted {
  readonly sizePt: number;
  readonly lines: readonly Line[];
}

/** All lines in the largest letters that fit; in the smallest, the last line that has room says that more was meant. */
function fitLines(runs: readonly (readonly Run[])[], widthPt: number, heightPt: number, rulers: Rulers): Fitted {
  for (const sizePt of SIZES_PT) {
    const lines = runs.flatMap((one) => wrapRuns(one, widthPt, rulers(sizePt)));
    if (lines.length * sizePt * LINE_FACTOR <= heightPt) return { sizePt, lines };
  }
  const sizePt = SIZES_PT.at(-1) ?? 5;
  const room = Math.max(1, Math.floor(heightPt / (sizePt * LINE_FACTOR)));
  return { sizePt, lines: runs.slice(0, room).map((one) => oneLine(rulers(sizePt), one, widthPt)) };
}

/** Neighbouring dark squares are drawn as one, so that no seam of light is seen between them. */
function drawCode(pdf: Pdf, labelId: string, leftPt: number, topPt: number, sidePt: number): void {
  const { across, dark } = labelCode(labelId);
  const square = sidePt / (across + 2 * CLEAR_SQUARES);
  const down = dark.length / across;
  for (let row = 0; row < down; row += 1) {
    for (let from = 0; from < across; from += 1) {
      let until = from;
      while (until < across && dark[row * across + until]) until += 1;
      if (until > from) {
        pdf.rect(
          leftPt + (from + CLEAR_SQUARES) * square,
          topPt + (row + CLEAR_SQUARES) * square,
          (until - from) * square,
          square,
        );
      }
      from = until;
    }
  }
  pdf.fill('#000000');
}

/** One label: the number and what it says at the left, the code with its text at the right. */
export function drawLabel(pdf: Pdf, label: ContainerLabel, place: LabelPlace, timeZone: string, rulers: Rulers): void {
  const heightPt = place.heightPt - 2 * PAD_PT;
  const idLines = 2;
  const idHeightPt = idLines * ID_PT * LINE_FACTOR;
  const side = Math.min(place.widthPt * CODE_SHARE, WIDEST_CODE_PT, heightPt - idHeightPt);
  const codeLeft = place.leftPt + place.widthPt - PAD_PT - side;
  const top = place.topPt + PAD_PT;
  drawCode(pdf, label.labelId, codeLeft, top, side);
  const id = wrapRuns([{ text: label.labelId }], side, rulers(ID_PT));
  const shownId = id.length > idLines ? [oneLine(rulers(ID_PT), [{ text: label.labelId }], side)] : id;
  shownId.forEach((line, at) => {
    drawLine(pdf, line, codeLeft, top + side + at * ID_PT * LINE_FACTOR, ID_PT);
  });
  const widthPt = codeLeft - place.leftPt - 2 * PAD_PT;
  const left = place.leftPt + PAD_PT;
  drawLine(
    pdf,
    oneLine(rulers(NUMBER_PT), [{ text: label.sampleNumber, look: 'bold' }], widthPt),
    left,
    top,
    NUMBER_PT,
  );
  const under = top + NUMBER_PT * LINE_FACTOR;
  const { sizePt, lines } = fitLines(linesOf(label, timeZone), widthPt, heightPt - NUMBER_PT * LINE_FACTOR, rulers);
  lines.forEach((line, at) => {
    drawLine(pdf, line, left, under + at * sizePt * LINE_FACTOR, sizePt);
  });
}
