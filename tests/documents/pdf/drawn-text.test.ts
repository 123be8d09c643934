import PDFDocument from 'pdfkit';
import { describe, expect, it } from 'vitest';
import { drawLine } from '../../../src/documents/pdf/draw-line.ts';
import { hasGlyph } from '../../../src/documents/pdf/has-glyph.ts';
import { bytesOfPdf, newPdf } from '../../../src/documents/pdf/new-pdf.ts';
import { oneLine } from '../../../src/documents/pdf/one-line.ts';
import { drawnText } from '../../../src/documents/pdf/page-text.ts';
import { fontFile } from '../../../src/documents/pdf/pdf-fonts.ts';
import { rulerOf, wrapRuns } from '../../../src/documents/pdf/runs.ts';
import { withPdf } from '../support/pdf-pages.ts';

const PAPER = { widthPt: 400, heightPt: 60, marginPt: 0 };
const ABOUT = { title: 'a line', author: 'nobody', madeAt: '2026-05-04T12:00:00Z' };

function aPage() {
  const pdf = newPdf(PAPER, ABOUT);
  pdf.addPage();
  return { pdf, ruler: rulerOf(pdf, 10) };
}

/** What a reader finds in a page on which the text is wrapped, and cut to one line. */
async function read(text: string): Promise<string> {
  const { pdf, ruler } = aPage();
  for (const [at, line] of wrapRuns([{ text }], 390, ruler).entries()) drawLine(pdf, line, 5, 5 + at * 14, 10);
  drawLine(pdf, oneLine(ruler, [{ text, look: 'bold' }], 390), 5, 45, 10);
  return withPdf(await bytesOfPdf(pdf), async ([page]) => page?.text ?? '');
}

describe('what somebody typed, on a page', () => {
  it.each(['Zoë Ødegård-Çelik', 'Иван Петров, Ѓорѓи', 'Ελένη Παπαδοπούλου', '≤ 0.45 µm, SO₄²⁻, 12 °C'])(
    'stands there as it was typed: %s',
    async (text) => {
      expect(drawnText(text, 'plain')).toBe(text);
      expect(drawnText(text, 'bold')).toBe(text);
      expect(await read(text)).toContain(text.normalize());
    },
  );

  it('has the number of each character that the font has no letter for, where an empty box would stand', async () => {
    expect(drawnText('王芳 W-1', 'plain')).toBe('[U+738B][U+82B3] W-1');
    expect(drawnText('\u{1f44d}', 'bold')).toBe('[U+1F44D]');
    const text = await read('Received by 王芳, 14:05');
    expect(text.match(/\[U\+738B\]\[U\+82B3\]/g)).toHaveLength(2);
    expect(text).toContain('14:05');
  });

  it('is told to have a letter where the font library draws one, and nowhere else', () => {
    const pdf = new PDFDocument({ autoFirstPage: false });
    for (const cut of ['plain', 'bold'] as const) {
      pdf.registerFont(cut, fontFile(cut));
      pdf.font(cut);
      const { font } = (pdf as unknown as { _font: { font: { hasGlyphForCodePoint(point: number): boolean } } })._font;
      for (let point = 0x20; point < 0x20000; point += point < 0x3000 ? 1 : 61) {
        if (point >= 0xd800 && point < 0xe000) continue;
        expect([point, hasGlyph(String.fromCodePoint(point), cut)]).toEqual([point, font.hasGlyphForCodePoint(point)]);
      }
    }
  });
});
