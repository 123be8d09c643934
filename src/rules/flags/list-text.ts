const SHOWN = 5;

/** "A", "A and B", "A, B and C"; of a long list the first few and how many more. */
export function listText(items: readonly string[]): string {
  const shown = items.length > SHOWN ? [...items.slice(0, SHOWN), `${items.length - SHOWN} more`] : items;
  const last = shown.at(-1) ?? '';
  return shown.length < 2 ? last : `${shown.slice(0, -1).join(', ')} and ${last}`;
}

/** "1 reading", "2 readings". */
export function countText(count: number, one: string): string {
  return count === 1 ? `1 ${one}` : `${count} ${one}s`;
}
