import { drawnText } from './page-text.ts';
import { cutOf, type Line, type Piece, type Ruler, type Run } from './runs.ts';

export function lineWidth(line: Line): number {
  return line.reduce((sum, { widthPt }) => sum + widthPt, 0);
}

function cut(text: string, look: Run['look'], roomPt: number, ruler: Ruler): string {
  let used = 0;
  let kept = '';
  for (const letter of text) {
    used += ruler(letter, look);
    if (used > roomPt) break;
    kept += letter;
  }
  return kept;
}

/** One line, with a mark where something was left out: for what stands in a place of fixed size. */
export function oneLine(ruler: Ruler, runs: readonly Run[], widthPt: number): Line {
  const pieces = runs.map(({ text, look }): Piece => {
    const shown = drawnText(text, cutOf(look));
    return { text: shown, ...(look && { look }), widthPt: ruler(shown, look) };
  });
  if (lineWidth(pieces) <= widthPt) return pieces;
  const mark = '\u2026';
  const line: Piece[] = [];
  let room = widthPt - ruler(mark, 'bold');
  for (const piece of pieces) {
    const text = cut(piece.text, piece.look, room, ruler);
    const width = ruler(text, piece.look);
    line.push({
      ...piece,
      text: text === piece.text ? text : text + mark,
      widthPt: text === piece.text ? width : ruler(text + mark, piece.look),
    });
    if (text !== piece.text) break;
    room -= width;
  }
  return line;
}
