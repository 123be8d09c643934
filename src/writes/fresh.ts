import { isUnreadable, type ReadMutation, type Unreadable } from '../protocol/read-mutation.ts';
import type { StampedClock } from '../protocol/record.ts';
import type { Decision } from '../rules/decide/decision.ts';
import type { Writer } from '../rules/held.ts';
import type { Batch, Line } from './batch.ts';
import { preparedLine } from './prepared-line.ts';

/** A mutation that the server has not seen before, on its way to an outcome. */
export interface Fresh {
  readonly batch: Batch;
  readonly number: number;
  readonly line: Line;
  readonly hash: Buffer;
  readonly read: ReadMutation | Unreadable;
  /** What code of ours failed with as it was read. */
  readonly fault?: unknown;
  readonly writer: Writer;
  readonly clock: StampedClock | null;
  decision: Decision | null;
  /** Place of its first change among the drafts of the group. */
  draft: number | null;
}

function read(result: ReadMutation | Unreadable, number: number): ReadMutation | Unreadable {
  if (isUnreadable(result) || result.mutation.mutationId === number) return result;
  const detail = `mutationId ${result.mutation.mutationId} stands in the place of ${number}`;
  return { code: 'wrong_number', detail, pointer: '/mutationId' };
}

type Difference = Pick<StampedClock, 'differenceMs' | 'uncertaintyMs'>;

/** What the wall clock of a device differs by as it sends; null for a request without one. */
export function wallDifference({ sent, roundTripMs }: Batch, nowMs: number): Difference | null {
  if (!sent) return null;
  return { differenceMs: Math.round(nowMs - Date.parse(sent.wall)), uncertaintyMs: Math.round(roundTripMs / 2) };
}

/**
 * What the device's clock differed by when it captured a record: within the boot in which it now sends, its monotonic
 * clock tells how long ago that was; otherwise the difference of its wall clock as it sends.
 */
export function stampClock(
  batch: Batch,
  clock: Omit<StampedClock, 'differenceMs' | 'uncertaintyMs'>,
  nowMs: number,
): StampedClock {
  const { sent, roundTripMs } = batch;
  const uncertaintyMs = Math.round(roundTripMs / 2);
  if (sent?.boot !== clock.boot || sent.monotonicMs < clock.monotonicMs) {
    return { ...clock, ...(wallDifference(batch, nowMs) ?? { differenceMs: 0, uncertaintyMs }) };
  }
  const capturedMs = Date.parse(clock.wall) + sent.monotonicMs - clock.monotonicMs;
  return { ...clock, differenceMs: Math.round(nowMs - capturedMs), uncertaintyMs };
}

export function freshOf(batch: Batch, number: number, line: Line, nowMs: number): Fresh {
  const prepared = preparedLine(line);
  const result = read(prepared.read, number);
  const clock = isUnreadable(result) ? undefined : result.mutation.clock;
  const { role, person } = batch.actor;
  return {
    batch,
    number,
    line,
    hash: prepared.hash,
    read: result,
    ...('fault' in prepared ? { fault: prepared.fault } : {}),
    writer: { client: batch.client, role, person },
    clock: clock ? stampClock(batch, clock, nowMs) : null,
    decision: null,
    draft: null,
  };
}
