import type { Pdf } from './new-pdf.ts';
import { cutOf, type Line, type Piece } from './runs.ts';

const INK = '#000000';
/** Dark enough to be read on a wet copy: 9.7 to 1 against white. */
const QUIET_INK = '#444444';

/**
 * Letters are measured one by one, so none may be moved towards its neighbour or melted into it. The font library takes
 * features to be switched off as an object, which the published types do not tell.
 */
const AS_MEASURED = {
  lineBreak: false,
  features: { kern: false, liga: false, clig: false, calt: false },
} as unknown as PDFKit.Mixins.TextOptions;

/** One line through what was, so that it stays readable. */
function strike(pdf: Pdf, piece: Piece, xPt: number, yPt: number, sizePt: number): void {
  const middle = yPt + sizePt * 0.62;
  pdf
    .save()
    .moveTo(xPt, middle)
    .lineTo(xPt + piece.widthPt, middle)
    .lineWidth(0.8)
    .stroke(INK)
    .restore();
}

/** Neighbours of one look are drawn as one text, which is faster and lets a reader search it. */
function joined(line: Line): readonly Piece[] {
  const all: Piece[] = [];
  for (const piece of line) {
    const last = all.at(-1);
    if (last && last.look === piece.look) {
      all[all.length - 1] = { ...last, text: last.text + piece.text, widthPt: last.widthPt + piece.widthPt };
    } else all.push(piece);
  }
  return all;
}

export function drawLine(pdf: Pdf, line: Line, xPt: number, yPt: number, sizePt: number): void {
  let at = xPt;
  for (const piece of joined(line)) {
    pdf
      .font(cutOf(piece.look))
      .fontSize(sizePt)
      .fillColor(piece.look === 'quiet' ? QUIET_INK : INK);
    pdf.text(piece.text, at, yPt, AS_MEASURED);
    if (piece.look === 'struck') strike(pdf, piece, at, yPt, sizePt);
    at += piece.widthPt;
  }
}
