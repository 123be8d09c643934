import type { Operation } from './api-document.ts';
import { type Aim, plainRead } from './attacks.ts';
import type { LeakDetector } from './leaks.ts';
import type { Speakers } from './matrix.ts';
import type { Asked } from './speaker.ts';

function withCursor({ method, url }: Asked, cursor: string): Asked {
  const address = new URL(url, 'http://server');
  address.searchParams.set('cursor', cursor);
  return { method, url: address.pathname + address.search };
}

/** A cursor that the victim was given, and the question that it was given for. */
async function cursorOf(operation: Operation, aim: Aim, victims: Speakers): Promise<[Asked, string] | null> {
  const theirs = plainRead(operation, { ...aim, ours: aim.theirs });
  const { text } = await victims.admin.ask({ ...theirs, url: `${theirs.url}?limit=1` });
  const { next, cursor = next } = JSON.parse(text) as { next?: string | null; cursor?: string };
  return typeof cursor === 'string' ? [theirs, cursor] : null;
}

export interface Borrowing {
  readonly aim: Aim;
  readonly victims: Speakers;
  readonly attackers: Speakers;
  readonly leaks: LeakDetector;
}

/** Goes on in every list and feed from where the victim stopped. @returns what came to light, and how many were tried */
export async function borrowCursors(operations: readonly Operation[], borrowing: Borrowing) {
  const { aim, attackers, leaks, victims } = borrowing;
  const faults: string[] = [];
  let tried = 0;
  const paged = operations.filter(({ parameters }) => parameters.some(({ name }) => name === 'cursor'));
  for (const operation of paged) {
    const [theirs, cursor] = (await cursorOf(operation, aim, victims)) ?? [];
    if (theirs === undefined || cursor === undefined) continue;
    tried += 1;
    for (const asked of [plainRead(operation, aim), theirs]) {
      const { status, text } = await attackers.admin.ask(withCursor(asked, cursor));
      const found = leaks.in(text);
      if (![200, 400, 404, 410].includes(status)) faults.push(`${asked.url}: ${status} ${text}`);
      if (found.length > 0) faults.push(`${asked.url} tells ${found.join(' ')}`);
    }
  }
  return { faults, tried };
}
