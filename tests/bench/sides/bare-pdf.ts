import { bytesOfPdf, newPdf } from '../../../src/documents/pdf/new-pdf.ts';

const PAPER = { widthPt: 612, heightPt: 792, marginPt: 0 };
const ABOUT = { title: 'Bare', author: 'Bare', madeAt: '2026-05-04T12:00:00Z' };
const SIZE_PT = 7;
const COLUMNS = 4;
const [EDGE_PT, ACROSS_PT, DOWN_PT] = [30, 140, 9];

/** Every text in what a document is drawn from. */
export function textsIn(facts: unknown): string[] {
  if (typeof facts === 'string') return [facts];
  if (typeof facts !== 'object' || facts === null) return [];
  return Object.values(facts).flatMap(textsIn);
}

/** Pages of a document; ours are not compressed where they are counted. */
export function pagesOf(pdf: Uint8Array): number {
  return Buffer.from(pdf).toString('latin1').split('/Type /Page\n').length - 1;
}

/** The least that the PDF library does for these texts: as many pages, the same fonts, each text set once where it falls. */
export function barePdf(texts: readonly string[], pages: number): Promise<Uint8Array> {
  const pdf = newPdf(PAPER, ABOUT);
  const each = Math.ceil(texts.length / pages);
  for (let page = 0; page < pages; page += 1) {
    pdf.addPage().font('plain').fontSize(SIZE_PT);
    for (const [at, text] of texts.slice(page * each, (page + 1) * each).entries()) {
      const place = [EDGE_PT + (at % COLUMNS) * ACROSS_PT, EDGE_PT + Math.floor(at / COLUMNS) * DOWN_PT] as const;
      pdf.text(text, ...place, { lineBreak: false });
    }
  }
  return bytesOfPdf(pdf);
}
