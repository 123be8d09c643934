import type { LabelMedia, LabelSheet } from './label-facts.ts';

export const PT_PER_MM = 72 / 25.4;

/** Where a label lies, in points. */
export interface LabelPlace {
  readonly leftPt: number;
  readonly topPt: number;
  readonly widthPt: number;
  readonly heightPt: number;
}

/** What a code, the number and seven lines in the smallest letters need. Own limit. */
const LEAST_WIDTH_MM = 50;
const LEAST_HEIGHT_MM = 25;

function refuse(what: string, remedy: string): never {
  throw new RangeError(`these labels cannot be laid out: ${what}; ${remedy}`);
}

function checkSheet(sheet: LabelSheet): void {
  const { columns, rows, usedLabels = 0 } = sheet;
  if (!Number.isInteger(columns) || !Number.isInteger(rows) || columns < 1 || rows < 1) {
    refuse(`${columns} columns and ${rows} rows`, 'give whole numbers from 1');
  }
  const width = sheet.leftMm + columns * sheet.labelWidthMm + (columns - 1) * sheet.gapAcrossMm;
  const height = sheet.topMm + rows * sheet.labelHeightMm + (rows - 1) * sheet.gapDownMm;
  // half a millimetre is lost in rounding inches
  if (width > sheet.paperWidthMm + 0.5 || height > sheet.paperHeightMm + 0.5) {
    const paper = `${sheet.paperWidthMm} x ${sheet.paperHeightMm} mm`;
    refuse(`they reach to ${width} x ${height} mm on paper of ${paper}`, 'give fewer or smaller ones');
  }
  if (Math.min(sheet.leftMm, sheet.topMm, sheet.gapAcrossMm, sheet.gapDownMm) < 0)
    refuse('a margin or gap is negative', 'give 0 or more');
  if (!Number.isInteger(usedLabels) || usedLabels < 0 || usedLabels >= columns * rows) {
    refuse(`${usedLabels} labels of the first sheet are used up`, `give 0 to ${columns * rows - 1}`);
  }
}

export function checkMedia(media: LabelMedia): void {
  const { labelWidthMm, labelHeightMm } = media;
  if (!(labelWidthMm >= LEAST_WIDTH_MM && labelHeightMm >= LEAST_HEIGHT_MM)) {
    refuse(
      `a label of ${labelWidthMm} x ${labelHeightMm} mm`,
      `give at least ${LEAST_WIDTH_MM} x ${LEAST_HEIGHT_MM} mm`,
    );
  }
  if (media.form === 'sheet') checkSheet(media);
}

export function paperOf(media: LabelMedia): {
  readonly widthPt: number;
  readonly heightPt: number;
  readonly marginPt: number;
} {
  const [widthMm, heightMm] =
    media.form === 'sheet' ? [media.paperWidthMm, media.paperHeightMm] : [media.labelWidthMm, media.labelHeightMm];
  return { widthPt: widthMm * PT_PER_MM, heightPt: heightMm * PT_PER_MM, marginPt: 0 };
}

/** The place of the label with this number, counted from 0 over all sheets, and whether it begins one. */
export function placeOf(media: LabelMedia, number: number): LabelPlace & { readonly page: number } {
  const size = { widthPt: media.labelWidthMm * PT_PER_MM, heightPt: media.labelHeightMm * PT_PER_MM };
  if (media.form === 'roll') return { leftPt: 0, topPt: 0, ...size, page: number };
  const at = number + (media.usedLabels ?? 0);
  const onPage = at % (media.columns * media.rows);
  const column = onPage % media.columns;
  const row = Math.floor(onPage / media.columns);
  return {
    leftPt: (media.leftMm + column * (media.labelWidthMm + media.gapAcrossMm)) * PT_PER_MM,
    topPt: (media.topMm + row * (media.labelHeightMm + media.gapDownMm)) * PT_PER_MM,
    ...size,
    page: Math.floor(at / (media.columns * media.rows)),
  };
}
