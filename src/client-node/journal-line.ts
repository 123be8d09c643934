import { createHash } from 'node:crypto';
import type { Change } from '../client/store.ts';

/** Before the first line. */
export const NO_LINK = '0'.repeat(16);
const LINK_LENGTH = 16;
const SPACE = 0x20;

export interface Line {
  /** Covers this line and the link of the line before it, so that a changed, missing or swapped line is noticed. */
  readonly link: string;
  readonly bytes: Buffer;
}

export function linkOf(before: string, text: Buffer): string {
  return createHash('sha256').update(before).update(text).digest('hex').slice(0, LINK_LENGTH);
}

export function textOf(value: unknown): Buffer {
  return Buffer.from(JSON.stringify(value), 'utf8');
}

/** One commit, one line: `<link> <JSON>` and a line end, which JSON text never has inside. */
export function lineOf(before: string, text: Buffer): Line {
  const link = linkOf(before, text);
  return { link, bytes: Buffer.concat([Buffer.from(`${link} `), text, Buffer.from('\n')]) };
}

export interface ReadLine {
  readonly link: string;
  /** It is the line that was written, and follows the one before it. */
  readonly right: boolean;
  readonly text: Buffer;
}

/** `bytes` without the line end. */
export function readLine(before: string, bytes: Buffer): ReadLine {
  const link = bytes.subarray(0, LINK_LENGTH).toString('latin1');
  const text = bytes.subarray(LINK_LENGTH + 1);
  return { link, right: bytes[LINK_LENGTH] === SPACE && link === linkOf(before, text), text };
}

export function changesIn(text: Buffer): readonly Change[] {
  return JSON.parse(text.toString('utf8')) as readonly Change[];
}
