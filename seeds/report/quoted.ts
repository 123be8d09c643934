/** As one word of a shell. */
export function quoted(text: string): string {
  return `'${text.replaceAll("'", "'\\''")}'`;
}
