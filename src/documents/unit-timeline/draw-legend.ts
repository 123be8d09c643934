import { px, textWidth, xmlText } from '../svg/svg-text.ts';
import type { Drawn } from './draw-rows.ts';
import { PAGE } from './layout.ts';
import { LOOKS, markPath } from './looks.ts';
import type { BarLook, MarkShape, TimelineRow } from './timeline-row.ts';

const BARS: Readonly<Partial<Record<BarLook, string>>> = {
  'down-the-well': 'down the well',
  'on-the-line': 'on the line',
  'beside-the-well': 'beside the well',
};

const MARKS: Readonly<Record<MarkShape, string>> = {
  clean: 'rinsate clean',
  failed: 'rinsate failed',
  traces: 'rinsate with traces',
  'no-result': 'rinsate without a result',
  service: 'service',
  'service-failed': 'service, failed',
};

interface Item {
  readonly says: string;
  readonly draw: (x: number, y: number) => string;
}

const SWATCH = 20;

function barItem(look: BarLook, says: string): Item {
  const { fill, edge } = LOOKS[look];
  const size = `width="${SWATCH - 6}" height="${PAGE.barHeight}"`;
  return {
    says,
    draw: (x, y) => `<rect x="${px(x)}" y="${px(y - 5)}" ${size} fill="${fill}" stroke="${edge}"/>`,
  };
}

/** What the name of its row does not say already, and only what is on the page. */
function itemsOf(rows: readonly TimelineRow[], isCrowded: boolean): readonly Item[] {
  const looks = new Set(rows.flatMap(({ bars }) => bars.map(({ look }) => look)));
  const shapes = new Set(rows.flatMap(({ marks }) => marks.map(({ shape }) => shape)));
  const goesOn = rows.some(({ bars }) => bars.some(({ untilMs }) => untilMs === null));
  const arrow: Item = {
    says: 'goes on',
    draw: (x, y) => `<path d="M${px(x + 4)} ${px(y - 5)}l5 5l-5 5Z" fill="#333"/>`,
  };
  const number: Item = {
    says: 'so many in one place',
    draw: (x, y) => `<text x="${px(x + 3)}" y="${px(y + 3.5)}" font-size="${PAGE.smallLetters}">12</text>`,
  };
  return [
    ...(Object.entries(BARS) as [BarLook, string][])
      .filter(([look]) => looks.has(look))
      .map(([look, says]) => barItem(look, says)),
    ...(Object.entries(MARKS) as [MarkShape, string][])
      .filter(([shape]) => shapes.has(shape))
      .map(([shape, says]) => ({ says, draw: (x: number, y: number) => markPath(shape, x + 7, y) })),
    ...(goesOn ? [arrow] : []),
    ...(isCrowded ? [number] : []),
  ];
}

/** What shades, shapes and numbers mean, in as many lines as it takes. */
export function drawnLegend(rows: readonly TimelineRow[], isCrowded: boolean, top: number): Drawn {
  let [x, y]: [number, number] = [PAGE.plotLeft, top + PAGE.legendHeight / 2];
  const texts: string[] = [];
  for (const { says, draw } of itemsOf(rows, isCrowded)) {
    const width = SWATCH + textWidth(says, PAGE.smallLetters) + 14;
    if (x + width > PAGE.plotRight && x > PAGE.plotLeft) [x, y] = [PAGE.plotLeft, y + PAGE.legendHeight];
    texts.push(
      `${draw(x, y)}<text x="${px(x + SWATCH)}" y="${px(y + 3.5)}" font-size="${PAGE.smallLetters}">${xmlText(says)}</text>`,
    );
    x += width;
  }
  return { text: texts.join('\n'), height: y - top + PAGE.legendHeight / 2 };
}
