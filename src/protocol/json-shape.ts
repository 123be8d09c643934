export interface JsonShape {
  /** How deeply arrays and objects are nested. */
  readonly depth: number;
  /** How many members its objects have as written, one that is given twice counted twice. */
  readonly members: number;
}

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const COLON = 0x3a;

/** Looks at a JSON text without parsing it: parsing what is nested too deeply would take the stack. */
export function jsonShape(text: string): JsonShape {
  let open = 0;
  let depth = 0;
  let members = 0;
  let quoted = false;
  for (let at = 0; at < text.length; at++) {
    const char = text.charCodeAt(at);
    if (quoted) {
      if (char === BACKSLASH) at++;
      else if (char === QUOTE) quoted = false;
    } else if (char === QUOTE) quoted = true;
    else if (char === COLON) members++;
    else if (char === 0x7b || char === 0x5b) depth = Math.max(depth, ++open);
    else if (char === 0x7d || char === 0x5d) open--;
  }
  return { depth, members };
}

/** How many members the objects of a parsed value have; fewer than were written where one was given twice. */
export function membersOf(value: unknown): number {
  if (typeof value !== 'object' || value === null) return 0;
  const inner = Object.values(value);
  let count = Array.isArray(value) ? 0 : inner.length;
  for (const one of inner) if (typeof one === 'object') count += membersOf(one);
  return count;
}
