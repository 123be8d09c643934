import { randomBytes, randomUUID } from 'node:crypto';
import os from 'node:os';
import type { DeviceTime } from '../../client/device-time.ts';
import type { FetchLike } from '../../client/fetch-like.ts';
import { uuidV7Maker } from '../../client/uuid-v7-maker.ts';
import { bootId } from '../process-life.ts';

const ANSWER_WITHIN_MS = 30_000;

/** What the command line works on: the clocks, the chance and the line of a computer, or of a phone that is played. */
export interface Device {
  /** @param aheadMs by how much the time to go by is ahead of the computer's */
  time(aheadMs: number): DeviceTime;
  readonly newId: () => string;
  readonly fetch: FetchLike;
}

function two(number: number): string {
  return String(number).padStart(2, '0');
}

/** Local time with its offset, as a watch on site shows it. */
export function localTime(now: Date): string {
  const east = -now.getTimezoneOffset();
  const local = new Date(now.getTime() + east * 60_000).toISOString().slice(0, 19);
  const hours = two(Math.floor(Math.abs(east) / 60));
  return `${local}${east < 0 ? '-' : '+'}${hours}:${two(Math.abs(east) % 60)}`;
}

/** The clocks of this computer. The uptime goes on between two commands, so that readings keep their spacing. */
function nodeTime(aheadMs: number): DeviceTime {
  const wall = () => localTime(new Date(Date.now() + aheadMs));
  const boot = bootId();
  if (boot !== null) return { wall, monotonicMs: () => os.uptime() * 1_000, boot };
  return { wall, monotonicMs: () => performance.now(), boot: randomUUID() };
}

export function nodeIds(): () => string {
  return uuidV7Maker({ nowMs: () => Date.now(), randomBytes: (count) => randomBytes(count) });
}

const nodeFetch: FetchLike = (url, request) =>
  fetch(url, { ...request, signal: AbortSignal.timeout(ANSWER_WITHIN_MS) }).catch((error: Error) => {
    // Node says only "fetch failed" and keeps the reason behind it.
    throw new Error(error.cause instanceof Error && error.cause.message ? error.cause.message : error.message);
  });

export function nodeDevice(): Device {
  return { time: nodeTime, newId: nodeIds(), fetch: nodeFetch };
}
