/** Reads CSV by RFC 4180 alone, character by character. */
export function readCsv(text: string): string[][] {
  const lines: string[][] = [];
  let [cell, line, quoted]: [string, string[], boolean] = ['', [], false];
  for (let at = 0; at < text.length; at++) {
    const sign = text[at] ?? '';
    if (quoted && sign === '"' && text[at + 1] === '"') {
      cell += '"';
      at++;
    } else if (sign === '"') {
      quoted = !quoted;
    } else if (!quoted && sign === ',') {
      line.push(cell);
      cell = '';
    } else if (!quoted && sign === '\r' && text[at + 1] === '\n') {
      lines.push([...line, cell]);
      [cell, line] = ['', []];
      at++;
    } else {
      cell += sign;
    }
  }
  if (quoted || cell !== '' || line.length > 0) throw new Error('the last line does not end');
  return lines;
}
