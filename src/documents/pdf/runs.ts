import type { Pdf } from './new-pdf.ts';
import { drawnText } from './page-text.ts';
import type { FontCut } from './pdf-fonts.ts';

/** Words of one look. */
export interface Run {
  readonly text: string;
  readonly look?: 'plain' | 'bold' | 'struck' | 'quiet';
}

export interface Piece extends Run {
  readonly widthPt: number;
}

export type Line = readonly Piece[];

/** How wide a text is in points, in the cut of its look. */
export type Ruler = (text: string, look: Run['look']) => number;

export function cutOf(look: Run['look']): FontCut {
  return look === 'bold' ? 'bold' : 'plain';
}

/** Letters are measured once and added up: measuring each text as a whole took most of the time of a long record. */
export function rulerOf(pdf: Pdf, sizePt: number): Ruler {
  const known = { plain: new Map<string, number>(), bold: new Map<string, number>() };
  const letterWidth = (letter: string, cut: FontCut): number => {
    const before = known[cut].get(letter);
    if (before !== undefined) return before;
    const width = pdf.font(cut).fontSize(sizePt).widthOfString(letter);
    known[cut].set(letter, width);
    return width;
  };
  return (text, look) => {
    const cut = cutOf(look);
    let sum = 0;
    for (const letter of text) sum += letterWidth(letter, cut);
    return sum;
  };
}

/** A word that fits no line is cut between letters; everything is shown. */
function* partsOf(word: string, look: Run['look'], widthPt: number, ruler: Ruler): Generator<string> {
  if (ruler(word, look) <= widthPt) return yield word;
  let part = '';
  let used = 0;
  for (const letter of word) {
    const width = ruler(letter, look);
    if (part !== '' && used + width > widthPt) {
      yield part;
      part = '';
      used = 0;
    }
    part += letter;
    used += width;
  }
  yield part;
}

function* wordsOf(runs: readonly Run[], widthPt: number, ruler: Ruler): Generator<Piece> {
  for (const { text, look } of runs) {
    for (const word of drawnText(text, cutOf(look)).match(/ +|[^ ]+/g) ?? []) {
      for (const part of partsOf(word, look, widthPt, ruler)) {
        yield { text: part, ...(look && { look }), widthPt: ruler(part, look) };
      }
    }
  }
}

function withoutLastSpace(line: Line): Line {
  return line.at(-1)?.text.trim() === '' ? line.slice(0, -1) : line;
}

/** The runs as lines that are no wider than the width. */
export function wrapRuns(runs: readonly Run[], widthPt: number, ruler: Ruler): readonly Line[] {
  const lines: Line[] = [];
  let line: Piece[] = [];
  let used = 0;
  for (const word of wordsOf(runs, widthPt, ruler)) {
    if (used + word.widthPt > widthPt && line.length > 0 && word.text.trim() !== '') {
      lines.push(withoutLastSpace(line));
      line = [];
      used = 0;
    }
    if (line.length === 0 && word.text.trim() === '') continue;
    line.push(word);
    used += word.widthPt;
  }
  return line.length > 0 ? [...lines, withoutLastSpace(line)] : lines;
}
