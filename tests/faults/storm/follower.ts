import { setTimeout as sleep } from 'node:timers/promises';
import { followLive, type LiveFollowing, type OpenLive, type ToldTails } from '../../../src/client/follow-live.ts';
import { LiveReader } from '../../support/live-reader.ts';
import type { StormPhone } from './storm-phone.ts';

const ANSWER_MS = 4_000;
const SILENCE_MS = 8_000;
/** Pauses are made shorter, and a line is given up sooner: a test has less time than a day has. */
const HASTE = 5;

/** As an app does it with the fetch of its platform. */
export const openLine: OpenLive = async (url, request) => {
  const giveUp = new AbortController();
  const patience = setTimeout(() => giveUp.abort(), ANSWER_MS);
  const response = await fetch(url, { ...request, signal: giveUp.signal }).finally(() => clearTimeout(patience));
  async function* chunks(): AsyncGenerator<string> {
    const decoder = new TextDecoder();
    for await (const bytes of response.body ?? []) yield decoder.decode(bytes, { stream: true });
  }
  const { status, headers } = response;
  return { status, headers, text: () => response.text(), chunks, cancel: () => giveUp.abort() };
};

/** A phone that follows its feeds live: the client library, and what it was told. */
export class Follower {
  /** Where each feed ends, as the phone was told last. */
  readonly told = new Map<string, number>();
  readonly #following: LiveFollowing;

  constructor(phone: StormPhone, open: OpenLive = openLine) {
    this.#following = followLive({
      base: phone.line.base,
      token: phone.secret,
      client: async () => phone.sim.contents.identity?.client ?? '',
      open,
      news: async (tails) => this.#news(phone, tails),
      wait: (ms) => sleep(ms === SILENCE_MS ? ms : ms / HASTE, undefined, { ref: false }),
      random: () => phone.chance.next(),
      silenceMs: SILENCE_MS,
    });
  }

  async #news(phone: StormPhone, tails: ToldTails): Promise<boolean> {
    for (const [feed, tail] of tails) this.told.set(feed, Math.max(tail, this.told.get(feed) ?? 0));
    return (await phone.sync())?.problem === null;
  }

  stop(): void {
    this.#following.stop();
  }
}

/** So many streams at once; those that the server has no place for are counted, not opened. */
export async function crowd(url: () => string, secrets: readonly string[], streams: number): Promise<LiveReader[]> {
  const opening = Array.from({ length: streams }, (_, at) =>
    LiveReader.open(url(), secrets[at % secrets.length] ?? '').catch(() => null),
  );
  return (await Promise.all(opening)).filter((reader) => reader !== null && reader.status === 200) as LiveReader[];
}
