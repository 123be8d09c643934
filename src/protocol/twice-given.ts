/** An object or array that the scan is in, with the key or index at which it stands. */
interface Frame {
  readonly keys: Set<string> | null;
  at: string;
  index: number;
}

const SPACE = /\s/;

/** Where the string that begins at a place ends. */
function endOfString(text: string, from: number): number {
  let at = from + 1;
  while (text[at] !== '"') at += text[at] === '\\' ? 2 : 1;
  return at;
}

function isKey(text: string, end: number): boolean {
  let at = end + 1;
  while (SPACE.test(text[at] ?? '')) at++;
  return text[at] === ':';
}

function pointerOf(frames: readonly Frame[]): string {
  return frames.map((frame) => `/${frame.at.replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
}

function push(frames: Frame[], opens: string): void {
  frames.push({ keys: opens === '{' ? new Set() : null, at: '0', index: 0 });
}

function step(frames: Frame[]): void {
  const frame = frames.at(-1);
  if (frame?.keys === null) frame.at = String(++frame.index);
}

/**
 * JSON.parse keeps the last of two fields of one name without a word, so the other value would be lost unseen.
 *
 * @param text valid JSON
 * @returns a JSON Pointer to the first field that is given twice, or null
 */
export function fieldGivenTwice(text: string): string | null {
  const frames: Frame[] = [];
  for (let at = 0; at < text.length; at++) {
    const char = text[at];
    if (char === '{' || char === '[') push(frames, char);
    else if (char === '}' || char === ']') frames.pop();
    else if (char === ',') step(frames);
    else if (char === '"') {
      const end = endOfString(text, at);
      const frame = frames.at(-1);
      if (frame?.keys && isKey(text, end)) {
        frame.at = JSON.parse(text.slice(at, end + 1)) as string;
        if (frame.keys.has(frame.at)) return pointerOf(frames);
        frame.keys.add(frame.at);
      }
      at = end;
    }
  }
  return null;
}
