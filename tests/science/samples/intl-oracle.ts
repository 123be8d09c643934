/** Wall clock of a zone by the platform's own tables, which the production code does not use. */
export function wallClock(epochMs: number, timeZone: string): string {
  const parts = new Intl.DateTimeFormat('en-CA', {
    timeZone,
    hourCycle: 'h23',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
  }).formatToParts(epochMs);
  const of = (type: string) => parts.find((part) => part.type === type)?.value ?? '';
  return `${of('year')}-${of('month')}-${of('day')}T${of('hour')}:${of('minute')}:${of('second')}`;
}

/** Offset in minutes: the wall clock read as if it were UTC, less UTC. */
export function offsetMinutes(epochMs: number, timeZone: string): number {
  return Math.round((Date.parse(`${wallClock(epochMs, timeZone)}Z`) - Math.floor(epochMs / 1_000) * 1_000) / 60_000);
}

/** The first instant whose wall clock is as told, by going through all offsets of the world; NaN in a gap. */
export function instantOfWall(wall: string, timeZone: string): number {
  const asUtc = Date.parse(`${wall}Z`);
  for (let offset = 14 * 60; offset >= -12 * 60; offset -= 15) {
    const ms = asUtc - offset * 60_000;
    if (wallClock(ms, timeZone) === wall) return ms;
  }
  return Number.NaN;
}

/** Weekday of a date, 1 for Monday, by the Sakamoto method. */
export function isoWeekday(date: string): number {
  const [year = 0, month = 0, day = 0] = date.split('-').map(Number);
  const shift = [0, 3, 2, 5, 0, 3, 5, 1, 4, 6, 2, 4][month - 1] ?? 0;
  const y = month < 3 ? year - 1 : year;
  const sunday0 = (y + Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400) + shift + day) % 7;
  return sunday0 === 0 ? 7 : sunday0;
}
