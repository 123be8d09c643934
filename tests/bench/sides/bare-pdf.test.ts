import { describe, expect, it } from 'vitest';
import { labelsPdf } from '../../../src/documents/labels/labels-pdf.ts';
import { barePdf, pagesOf, textsIn } from './bare-pdf.ts';

const LABEL = {
  labelId: 'A-1',
  sampleNumber: 'A',
  site: 'Depot',
  project: 'Round',
  matrix: 'water',
  analyses: ['VOC'],
};
const PLACES = { columns: 1, rows: 1, leftMm: 0, topMm: 0, gapAcrossMm: 0, gapDownMm: 0, usedLabels: 0 };
const PAPER = { paperWidthMm: 100, paperHeightMm: 60, labelWidthMm: 98, labelHeightMm: 50 };
const ABOUT = { firm: 'F', title: 'T', madeAt: '2026-05-04T12:00:00Z', timeZone: 'UTC' };

describe('the bare document beside ours', () => {
  it('has as many pages as ours, which are counted the same way', async () => {
    const ours = await labelsPdf([LABEL, LABEL, LABEL], { form: 'sheet', ...PAPER, ...PLACES }, ABOUT);
    expect(pagesOf(ours)).toBe(3);
    expect(pagesOf(await barePdf(textsIn([LABEL, LABEL, LABEL]), 3))).toBe(3);
  });

  it('holds every text that ours is drawn from, however deep', () => {
    expect(textsIn({ a: 'x', b: [{ c: 'y', d: 7, e: null }] })).toEqual(['x', 'y']);
  });
});
