import { id } from '../protocol/primitives.ts';
import { Problem } from '../protocol/problem.ts';

/** The place in a list that goes by ids. */
export function isId(place: string): boolean {
  return id.safeParse(place).success;
}

/** A place in a list, opaque to whoever gets it. It grants nothing: what may be read is asked again for each page. */
export function writeListCursor(list: string, place: string): string {
  return Buffer.from(JSON.stringify([list, place])).toString('base64url');
}

function parse(text: string): unknown {
  try {
    return JSON.parse(Buffer.from(text, 'base64url').toString('utf8'));
  } catch {
    return null;
  }
}

/**
 * @param fits whether a text is a place of this list: whatever passes goes to the database
 * @returns null for the beginning
 * @throws Problem `bad_request` where the text is no cursor of this list
 */
export function readListCursor(
  list: string,
  text: string | undefined,
  fits: (place: string) => boolean,
): string | null {
  if (text === undefined) return null;
  const parsed = parse(text);
  const [of, place]: unknown[] = Array.isArray(parsed) ? parsed : [];
  if (of === list && typeof place === 'string' && fits(place)) return place;
  throw new Problem('bad_request', `cursor: no cursor of the list ${list}; take it from the link to the next page`, {
    pointer: '/cursor',
  });
}
