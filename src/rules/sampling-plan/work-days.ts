const DAY_MS = 86_400_000;

/**
 * The days on which an event is worked, as far as a plan can tell: from its first to its last, and no more than it has
 * wells, as a crew does one well a day at least. Common practice, no source.
 */
export function workDays(event: { readonly starts: string; readonly ends: string }, wells: number): readonly string[] {
  const [from, to] = [Date.parse(`${event.starts}T00:00:00Z`), Date.parse(`${event.ends}T00:00:00Z`)];
  const days = Math.max(0, Math.min(wells, Math.floor((to - from) / DAY_MS) + 1));
  return Array.from({ length: days }, (_, at) => new Date(from + at * DAY_MS).toISOString().slice(0, 10));
}
