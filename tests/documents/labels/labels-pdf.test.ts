import { describe, expect, it } from 'vitest';
import type { ContainerLabel, LabelRoll, LabelSheet } from '../../../src/documents/labels/label-facts.ts';
import { labelsPdf } from '../../../src/documents/labels/labels-pdf.ts';
import { withPdf } from '../support/pdf-pages.ts';
import { readCodes } from '../support/read-codes.ts';

const about = {
  firm: 'Example Field Services',
  title: 'Labels of the second quarter round',
  madeAt: '2026-05-04T12:00:00Z',
  timeZone: 'America/New_York',
};

const roll: LabelRoll = { form: 'roll', labelWidthMm: 76, labelHeightMm: 38 };

const sheet: LabelSheet = {
  form: 'sheet',
  paperWidthMm: 216,
  paperHeightMm: 279,
  leftMm: 8,
  topMm: 14,
  columns: 2,
  rows: 5,
  labelWidthMm: 98,
  labelHeightMm: 50,
  gapAcrossMm: 4,
  gapDownMm: 0,
};

function label(at: number): ContainerLabel {
  return {
    labelId: `W26-113-${String(at).padStart(2, '0')}`,
    sampleNumber: 'W26-113',
    site: 'Old tannery S-17',
    project: '26-041',
    labelTime: '2026-05-07T14:42:00Z',
    samplerInitials: 'AB',
    matrix: 'groundwater',
    container: '40 mL glass vial',
    preservative: 'HCl to pH < 2',
    filtered: false,
    analyses: ['volatile organic compounds'],
  };
}

const flat = (text: string) => text.replace(/\s+/g, ' ');

async function told(labels: readonly ContainerLabel[], media: LabelRoll | LabelSheet = roll) {
  return withPdf(await labelsPdf(labels, media, about), async (pages) => {
    const codes: string[][] = [];
    for (const page of pages) codes.push([...(await readCodes(await page.image(4)))].sort());
    return { texts: pages.map(({ text }) => flat(text)), codes };
  });
}

describe('labels of containers', () => {
  it('say the least that a label must say, and their code is read by another decoder', async () => {
    const { texts, codes } = await told([label(1), label(2)]);
    expect(codes).toEqual([['W26-113-01'], ['W26-113-02']]);
    for (const part of [
      'W26-113',
      'Old tannery S-17, 26-041',
      '2026-05-07 10:42 -04:00',
      'Sampler AB',
      'Matrix groundwater, not filtered',
      'Container 40 mL glass vial',
      'Preservative HCl to pH < 2',
      'Analyses volatile organic compounds',
      'W26-113-01',
    ]) {
      expect(texts[0]).toContain(part);
    }
  });

  it('leave room for a pen where the bottle is not filled yet', async () => {
    const { labelTime: _time, samplerInitials: _by, preservative: _kept, ...before } = label(1);
    const { texts } = await told([before]);
    expect(texts[0]).toMatch(/Date _+ Time _+ Sampler _+ /);
    expect(texts[0]).toMatch(/Preservative _+/);
  });

  it('fill sheets from the first label that is left', async () => {
    const labels = Array.from({ length: 17 }, (_, at) => label(at));
    const { codes } = await told(labels, { ...sheet, usedLabels: 4 });
    expect(codes.map((page) => page.length)).toEqual([6, 10, 1]);
    expect(codes.flat().sort()).toEqual(labels.map(({ labelId }) => labelId));
  });

  it.each(['^FNC1^065', '(01)0952~d029', 'ä-µ-№ 7', 'x'.repeat(64), '-1.5e3', 'W26 113 %20&<b>'])(
    'hold %j in the code as it is',
    async (labelId) => {
      const { codes } = await told([{ ...label(1), labelId }]);
      expect(codes).toEqual([[labelId]]);
    },
  );

  it('keep within their label whatever is written on it, and cut analyses before number and time', async () => {
    const endless = `${'W'.repeat(300)} ${'word '.repeat(300)}\u0000\u202e😀`;
    const bad = {
      ...label(1),
      site: endless,
      project: endless,
      matrix: endless,
      container: endless,
      analyses: [endless],
    };
    const { texts, codes } = await told([bad]);
    expect(codes).toEqual([['W26-113-01']]);
    expect(texts).toHaveLength(1);
    expect(texts[0]).toContain('2026-05-07 10:42 -04:00');
    expect(texts[0]).toContain('…');
    await withPdf(await labelsPdf([bad, label(2)], { ...sheet, usedLabels: 0 }, about), async ([page]) => {
      const image = await page?.image(3);
      if (!image) throw new Error('no page');
      const px = (mm: number) => Math.round((mm / sheet.paperWidthMm) * image.width);
      // nothing is drawn in the gap between the two labels
      for (let y = 0; y < image.height; y += 1) {
        for (let x = px(106.2); x < px(109.8); x += 1) expect(image.rgba[(y * image.width + x) * 4]).toBe(255);
      }
    });
  });

  it('name every field on the smallest label, whatever stands in it', async () => {
    const long = { ...label(1), analyses: Array.from({ length: 40 }, (_, at) => `analysis ${at}`) };
    const { texts, codes } = await told([long], { form: 'roll', labelWidthMm: 50, labelHeightMm: 25 });
    for (const title of ['Sampler', 'Matrix', 'Container', 'Preservative', 'Analyses analysis 0'])
      expect(texts[0]).toContain(title);
    expect(codes).toEqual([['W26-113-01']]);
  });

  it('are the same bytes for the same facts', async () => {
    const make = () => labelsPdf([label(1)], roll, about);
    expect(Buffer.compare(await make(), await make())).toBe(0);
  });

  it.each([
    [{ ...sheet, columns: 3 }, /reach to 310 x 264 mm on paper of 216 x 279 mm; give fewer or smaller ones/],
    [{ ...sheet, rows: 0 }, /2 columns and 0 rows; give whole numbers from 1/],
    [{ ...sheet, usedLabels: 10 }, /10 labels of the first sheet are used up; give 0 to 9/],
    [{ ...sheet, gapDownMm: -1 }, /negative/],
    [{ ...roll, labelHeightMm: 10 }, /a label of 76 x 10 mm; give at least 50 x 25 mm/],
    [{ ...roll, labelWidthMm: Number.NaN }, /a label of NaN x 38 mm/],
  ])('say why they cannot be laid out %#', async (media, why) => {
    await expect(labelsPdf([label(1)], media, about)).rejects.toThrow(why);
  });

  it('say what is wrong with an id that no code should hold', async () => {
    await expect(labelsPdf([{ ...label(1), labelId: 'x'.repeat(65) }], roll, about)).rejects.toThrow(
      /1 to 64 characters, not 65/,
    );
    await expect(labelsPdf([], roll, about)).rejects.toThrow(/no label to print/);
  });

  it('let others have their turn while many are drawn', async () => {
    let turns = 0;
    let isDone = false;
    const count = () => {
      turns += 1;
      if (!isDone) setImmediate(count);
    };
    setImmediate(count);
    await labelsPdf(
      Array.from({ length: 200 }, (_, at) => label(at)),
      roll,
      about,
    );
    isDone = true;
    expect(turns).toBeGreaterThanOrEqual(5);
  });
});
