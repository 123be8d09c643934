import { Problem } from '../protocol/problem.ts';

/** @returns the refusal of what stands at a place */
export function unreadableAt(pointer: string, why: string): Problem {
  return new Problem('unreadable_record', `${pointer || '/'} ${why}`, { pointer });
}

function isText(value: string): boolean {
  return value.isWellFormed() && !value.includes('\0');
}

/**
 * What JSON can say and no field can hold, wherever it stands.
 *
 * @throws Problem `unreadable_record` naming the place
 */
export function checkValues(value: unknown, pointer: string): void {
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw unreadableAt(pointer, 'is a number beyond what can be kept');
  }
  if (typeof value === 'string' && !isText(value)) {
    throw unreadableAt(pointer, 'holds NUL or half of a surrogate pair, which no database can give back unchanged');
  }
  if (typeof value !== 'object' || value === null) return;
  for (const [key, inner] of Object.entries(value)) {
    const at = `${pointer}/${key.replaceAll('~', '~0').replaceAll('/', '~1')}`;
    if (key === '__proto__' || !isText(key)) {
      throw unreadableAt(at.toWellFormed().replaceAll('\0', '?'), 'is not a known field');
    }
    checkValues(inner, at);
  }
}
