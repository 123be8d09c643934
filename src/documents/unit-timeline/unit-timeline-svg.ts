import { cutToWidth, px, xmlText } from '../svg/svg-text.ts';
import { inZone, type TimeWindow, zonedDay, zonedText } from '../svg/time-axis.ts';
import { isCrowded } from './clumps.ts';
import { drawnAxis } from './draw-axis.ts';
import { drawnLegend } from './draw-legend.ts';
import { drawnRows } from './draw-rows.ts';
import { PAGE, Scale } from './layout.ts';
import { PATTERNS } from './looks.ts';
import type { TimelineFacts } from './timeline-facts.ts';
import { timelineRows } from './timeline-rows.ts';
import { leftOutSince, timelineWindow } from './timeline-window.ts';

const TITLE_LETTERS = 18;
/** Bold letters are wider. */
const TITLE_WIDTH = (PAGE.plotRight - PAGE.margin) / 1.15;

/** The offset too, since readers know it better than the name of the zone; both where it changes within. */
function zoneText({ fromMs, untilMs }: TimeWindow, timeZone: string): string {
  const offsets = [fromMs, untilMs].map((ms) => `UTC${inZone(ms, timeZone).offset}`);
  return `Times in ${timeZone} (${[...new Set(offsets)].join(', then ')})`;
}

function daysText({ fromMs, untilMs }: TimeWindow, timeZone: string): string {
  const [first, last] = [zonedDay(fromMs, timeZone), zonedDay(untilMs - 1, timeZone)];
  if (first !== last) return `${first} to ${last}`;
  return `${zonedText(fromMs, timeZone)} to ${zonedText(untilMs - 1, timeZone).slice(11, 16)}`;
}

function leftOutText(facts: TimelineFacts, window: TimeWindow): string {
  const since = leftOutSince(facts, window);
  if (since === null) return '';
  return ` The latest round; what was before it, since ${zonedDay(since, facts.timeZone)}, is drawn where from= is asked for.`;
}

function head(title: string, under: string): string {
  const told = cutToWidth(title, TITLE_LETTERS, TITLE_WIDTH);
  const whole = told === title ? '' : `<title>${xmlText(title)}</title>`;
  return (
    `<text x="${PAGE.margin}" y="30" font-size="${TITLE_LETTERS}" font-weight="bold">${whole}${xmlText(told)}</text>` +
    `<text x="${PAGE.margin}" y="50" font-size="12" fill="#333">${xmlText(under)}</text>`
  );
}

function page(title: string, height: number, content: readonly string[]): string {
  const size = `width="${PAGE.width}" height="${px(height)}" viewBox="0 0 ${PAGE.width} ${px(height)}"`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" ${size} role="img" font-family="Helvetica, Arial, sans-serif" fill="#000">`,
    `<title>${xmlText(title)}</title>`,
    `<defs>${PATTERNS}</defs>`,
    `<rect width="100%" height="100%" fill="#fff"/>`,
    ...content,
    '</svg>\n',
  ].join('\n');
}

/**
 * The life of a unit over time as a picture: its states, the wells that it was at, decons, rinsates, soft parts, services
 * and the crews that had it. The same facts give the same bytes. What somebody typed stands in it as text and nothing else.
 */
export function unitTimelineSvg(facts: TimelineFacts): string {
  const title = `${facts.label}, ${facts.type}`;
  const window = timelineWindow(facts);
  if (!window) return page(title, PAGE.headHeight, [head(title, 'No record says when anything happened to it.')]);
  const scale = new Scale(window);
  const rows = timelineRows(facts, window);
  const { text, height } = drawnRows(rows, PAGE.headHeight, scale);
  const bottom = PAGE.headHeight + height;
  const legend = drawnLegend(rows, isCrowded(rows, scale), bottom + PAGE.groupGap);
  const under = `${daysText(window, facts.timeZone)}. ${zoneText(window, facts.timeZone)}.${leftOutText(facts, window)}`;
  return page(title, bottom + legend.height + PAGE.groupGap + PAGE.margin, [
    head(title, under),
    drawnAxis(window, facts.timeZone, scale, bottom),
    text,
    legend.text,
  ]);
}
