import { describe, expect, it } from 'vitest';
import { drawLine } from '../../../src/documents/pdf/draw-line.ts';
import { bytesOfPdf, newPdf } from '../../../src/documents/pdf/new-pdf.ts';
import { type Run, rulerOf, wrapRuns } from '../../../src/documents/pdf/runs.ts';
import { withPdf } from '../support/pdf-pages.ts';

const PAPER = { widthPt: 200, heightPt: 40, marginPt: 0 };

/** The longest row of dark dots, in points. */
async function longestLinePt(runs: readonly Run[]): Promise<number> {
  const pdf = newPdf(PAPER, { title: 'a line', author: 'nobody', madeAt: '2026-05-04T12:00:00Z' });
  pdf.addPage();
  const [line] = wrapRuns(runs, 190, rulerOf(pdf, 10));
  drawLine(pdf, line ?? [], 5, 10, 10);
  return withPdf(await bytesOfPdf(pdf), async ([page]) => {
    const image = await page?.image(4);
    let longest = 0;
    let row = 0;
    for (let dot = 0; image && dot < image.width * image.height; dot += 1) {
      if (dot % image.width === 0) row = 0;
      row = (image.rgba[dot * 4] ?? 255) < 120 ? row + 1 : 0;
      longest = Math.max(longest, row);
    }
    return longest / 4;
  });
}

describe('a line of runs', () => {
  it('has one line through what was struck, as long as it is', async () => {
    expect(await longestLinePt([{ text: '12.43 12.43' }])).toBeLessThan(7);
    const struck = await longestLinePt([{ text: '12.43 12.43', look: 'struck' }]);
    expect(struck).toBeGreaterThan(50);
    expect(
      await longestLinePt([
        { text: '12.43', look: 'struck' },
        { text: ' 12.34', look: 'bold' },
      ]),
    ).toBeLessThan(struck / 1.8);
  });

  it('is measured as it is drawn: letters that fonts move together do not leave the line', () => {
    const pdf = newPdf(PAPER, { title: 'a line', author: 'nobody', madeAt: '2026-05-04T12:00:00Z' });
    pdf.addPage();
    const ruler = rulerOf(pdf, 10);
    const lines = wrapRuns(
      [{ text: `${'AV'.repeat(80)} fi ffi ` }, { text: 'W'.repeat(40), look: 'bold' }],
      100,
      ruler,
    );
    for (const line of lines) expect(line.reduce((sum, { widthPt }) => sum + widthPt, 0)).toBeLessThanOrEqual(100);
    expect(
      lines
        .flat()
        .map(({ text }) => text)
        .join('')
        .replaceAll(' ', ''),
    ).toBe(`${'AV'.repeat(80)}fiffi${'W'.repeat(40)}`);
  });
});
