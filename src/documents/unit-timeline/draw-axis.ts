import { px, xmlText } from '../svg/svg-text.ts';
import { type TimeWindow, timeTicks } from '../svg/time-axis.ts';
import { PAGE, type Scale } from './layout.ts';

const MOST_TICKS = 14;

/** The marks of the time with their lines through all rows. */
export function drawnAxis(window: TimeWindow, timeZone: string, scale: Scale, bottom: number): string {
  const top = PAGE.headHeight;
  const lines = timeTicks(window, timeZone, MOST_TICKS).map(({ ms, label, isMain }) => {
    const x = px(scale.x(ms));
    const weight = isMain ? ' font-weight="bold"' : '';
    return (
      `<path d="M${x} ${px(top - 8)}V${px(bottom)}" stroke="${isMain ? '#999' : '#e2e2e2'}"/>` +
      `<text x="${x}" y="${px(top - 12)}" text-anchor="middle" font-size="${PAGE.smallLetters}"${weight}>${xmlText(label)}</text>`
    );
  });
  return lines.join('\n');
}
