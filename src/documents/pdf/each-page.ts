import type { Pdf } from './new-pdf.ts';

/** Draws on every page what needs to know how many there are; to be called when the last one is full. */
export function onEachPage(pdf: Pdf, draw: (page: number, pages: number) => void): void {
  const { start, count } = pdf.bufferedPageRange();
  for (let at = 0; at < count; at += 1) {
    pdf.switchToPage(start + at);
    // text below the margin would begin a page of its own
    pdf.page.margins.bottom = 0;
    draw(at + 1, count);
  }
}
