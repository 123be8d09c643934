import { cutToWidth, px, textWidth, xmlText } from '../svg/svg-text.ts';
import { type Clump, clumpedBars, clumpedMarks, lanesOf, tellsOf } from './clumps.ts';
import { PAGE, type Scale } from './layout.ts';
import { gravestShape, LOOKS, markPath } from './looks.ts';
import type { Bar, Mark, TimelineRow } from './timeline-row.ts';

/** Below this a cut label says nothing. */
const LEAST_LABEL = 60;
const PAD = 4;
/** From this width on a bar has an edge. */
const WITH_EDGE = 4;

export interface Drawn {
  readonly text: string;
  readonly height: number;
}

interface LabelGiven {
  readonly label: string;
  readonly left: number;
  readonly room: number;
  readonly y: number;
  readonly ink: string;
  /** On a pattern letters need a ground of their own. */
  readonly onPattern?: boolean;
}

const GROUND = ' stroke="#fff" stroke-width="3" stroke-linejoin="round" paint-order="stroke"';

function labelText({ label, left, room, y, ink, onPattern = false }: LabelGiven): string {
  if (textWidth(label, PAGE.smallLetters) > room && room < LEAST_LABEL) return '';
  const cut = cutToWidth(label, PAGE.smallLetters, room);
  return `<text x="${px(left)}" y="${px(y + 3.5)}" font-size="${PAGE.smallLetters}" fill="${ink}"${onPattern ? GROUND : ''}>${xmlText(cut)}</text>`;
}

/** What is narrow is drawn without a fill, of which nothing would be seen beside its edge. */
function barShape({ left, right }: Clump<Bar>, { look }: Bar, top: number): string {
  const { edge, fill } = LOOKS[look];
  const width = right - left;
  if (width <= WITH_EDGE)
    return `<rect x="${px(left)}" y="${px(top)}" width="${px(width)}" height="${PAGE.barHeight}" fill="${edge}"/>`;
  const size = `width="${px(width - 1)}" height="${PAGE.barHeight}"`;
  return `<rect x="${px(left + 0.5)}" y="${px(top)}" ${size} fill="${fill}" stroke="${edge}"/>`;
}

/** In the bar where there is room; else one alone is told beside it. */
function barLabel({ left, right, items }: Clump<Bar>, first: Bar, y: number, room: number): string {
  const label = items.length === 1 ? first.label : `${items.length}`;
  if (label === null) return '';
  const inside = right - left - 2 * PAD;
  const { fill, ink } = LOOKS[first.look];
  if (textWidth(label, PAGE.smallLetters) <= inside || inside >= LEAST_LABEL)
    return labelText({ label, left: left + PAD, room: inside, y, ink, onPattern: fill.startsWith('url(') });
  if (items.length > 1) return '';
  return labelText({ label, left: right + PAD, room: room - 2 * PAD, y, ink: '#000' });
}

function drawnBar(clump: Clump<Bar>, y: number, room: number): string {
  const { right, items } = clump;
  const [first] = items;
  if (!first) return '';
  const top = y - PAGE.barHeight / 2;
  const goesOn = items.some(({ untilMs }) => untilMs === null);
  const end = goesOn ? `<path d="M${px(right)} ${px(top)}l5 5l-5 5Z" fill="${LOOKS[first.look].edge}"/>` : '';
  const title = `<title>${xmlText(tellsOf(items))}</title>`;
  return `<g>${title}${barShape(clump, first, top)}${end}${barLabel(clump, first, y, room)}</g>`;
}

function drawnMark({ left, right, items }: Clump<Mark>, y: number, room: number): string {
  const [x, shape] = [(left + right) / 2, gravestShape(items.map((mark) => mark.shape))];
  const label = items.length === 1 ? (items[0]?.label ?? null) : `${items.length}`;
  const said = label === null ? '' : labelText({ label, left: right + 2, room: room - 4, y, ink: '#000' });
  return `<g><title>${xmlText(tellsOf(items))}</title>${markPath(shape, x, y)}${said}</g>`;
}

/** How far it is from each to the next, or to the edge of the page. */
function roomsOf(clumps: readonly Clump<unknown>[]): readonly number[] {
  return clumps.map(({ right }, at) => (clumps[at + 1]?.left ?? PAGE.plotRight) - right);
}

function rowLabel(label: string, y: number): string {
  const room = PAGE.plotLeft - PAGE.labelLeft - 8;
  const cut = cutToWidth(label, PAGE.letters, room);
  const title = cut === label ? '' : `<title>${xmlText(label)}</title>`;
  return `<text x="${PAGE.labelLeft}" y="${px(y + 4)}" font-size="${PAGE.letters}">${title}${xmlText(cut)}</text>`;
}

function drawnRow(row: TimelineRow, top: number, scale: Scale): Drawn {
  const lanes = lanesOf(row.bars);
  const middle = (lane: number) => top + (lane + 0.5) * PAGE.laneHeight;
  const bars = lanes.flatMap((lane, at) => {
    const clumps = clumpedBars(lane, scale);
    const rooms = roomsOf(clumps);
    return clumps.map((clump, place) => drawnBar(clump, middle(at), rooms[place] ?? 0));
  });
  const marks = clumpedMarks(row.marks, scale);
  const rooms = roomsOf(marks);
  const drawn = marks.map((clump, place) => drawnMark(clump, middle(0), rooms[place] ?? 0));
  const height = Math.max(lanes.length, 1) * PAGE.laneHeight;
  return { text: [rowLabel(row.label, middle(0)), ...bars, ...drawn].join(''), height };
}

/** All rows below each other, those of a group under its name, with a line above each group. */
export function drawnRows(rows: readonly TimelineRow[], top: number, scale: Scale): Drawn {
  let y = top;
  let group: string | null = null;
  const texts: string[] = [];
  for (const row of rows) {
    if (row.group !== group) {
      if (group !== null) y += PAGE.groupGap;
      const line = y - PAGE.groupGap / 2;
      texts.push(
        `<path d="M${PAGE.groupLeft} ${px(line)}H${PAGE.plotRight}" stroke="#bbb"/>`,
        `<text x="${PAGE.groupLeft}" y="${px(y + PAGE.laneHeight / 2 + 4)}" font-size="${PAGE.letters}" font-weight="bold">${xmlText(row.group)}</text>`,
      );
      group = row.group;
    }
    const { text, height } = drawnRow(row, y, scale);
    texts.push(text);
    y += height;
  }
  return { text: texts.join('\n'), height: y - top };
}
