import { LIMITS } from '../protocol/limits.ts';
import type { LineState } from './context.ts';

function halved(count: number): number {
  return Math.max(1, Math.floor(count / 2));
}

/**
 * A line that drops before a large body is through would drop it every time. So a request that fails is halved, and
 * one that succeeds doubles the next, up to the limits of the wire.
 */
export function narrowPush(line: LineState, sent: number): void {
  line.pushMutations = halved(Math.min(sent, line.pushMutations));
}

export function widenPush(line: LineState): void {
  line.pushMutations = Math.min(LIMITS.pushMutations, line.pushMutations * 2);
}

export function narrowPages(line: LineState): void {
  line.pageRows = halved(line.pageRows);
}

export function widenPages(line: LineState): void {
  line.pageRows = Math.min(LIMITS.feedPageRows, line.pageRows * 2);
}
