import { describe, expect, it } from 'vitest';
import { type FollowOptions, followLive, type LiveResponse, standsAt } from '../../src/client/follow-live.ts';
import { memoryStore } from '../../src/client/memory-store.ts';

/** A line on which a test says what it likes. */
class Line implements LiveResponse {
  readonly status: number;
  readonly headers: LiveResponse['headers'];
  cancelled = false;
  readonly #said: (string | null)[] = [];
  #wake: () => void = () => undefined;

  constructor(status = 200, headers: Record<string, string> = {}) {
    const all: Record<string, string> = { 'content-type': 'text/event-stream; charset=utf-8', ...headers };
    this.status = status;
    this.headers = { get: (name) => all[name] ?? null };
  }

  text(): Promise<string> {
    return Promise.resolve(JSON.stringify({ code: `code_${this.status}`, detail: 'no' }));
  }

  say(...events: readonly (readonly [feed: string, tail: number])[]): void {
    this.raw(events.map(([feed, tail]) => `event: tail\ndata: ${JSON.stringify({ feed, tail })}\n\n`).join(''));
  }

  raw(text: string | null): void {
    this.#said.push(text);
    this.#wake();
  }

  cancel(): void {
    this.cancelled = true;
    this.#wake();
  }

  async *chunks(): AsyncGenerator<string> {
    for (;;) {
      const next = this.#said.shift();
      if (next === null || this.cancelled) return;
      if (next !== undefined) yield next;
      else await new Promise<void>((resolve) => (this.#wake = resolve));
    }
  }
}

interface Wait {
  readonly ms: number;
  readonly over: () => void;
}

/** A phone whose time passes when a test says so. */
function phone(lines: readonly (Line | Error)[], own: Partial<FollowOptions> = {}) {
  const asked: string[] = [];
  const calls: Record<string, number>[] = [];
  const waits: Wait[] = [];
  let at = 0;
  const following = followLive({
    base: 'https://firm.example/',
    token: 'T',
    client: async () => 'me',
    async open(url, { headers }) {
      asked.push(`${url} ${headers.authorization} ${headers.accept}`);
      const line = lines[at++];
      if (!line) return new Promise<never>(() => undefined);
      if (line instanceof Error) throw line;
      return line;
    },
    news: async (tails) => {
      calls.push(Object.fromEntries(tails));
      return true;
    },
    wait: (ms) => new Promise((over) => void waits.push({ ms, over })),
    random: () => 0.5,
    silenceMs: 40_000,
    ...own,
  });
  /** Lets the waits end that are shorter than the silence after which a line is dead, or that one. */
  const pass = (which: 'pause' | 'silence') => {
    for (const wait of waits.splice(0)) {
      if ((wait.ms === 40_000) === (which === 'silence')) wait.over();
      else waits.push(wait);
    }
  };
  const pauses = () => waits.filter(({ ms }) => ms !== 40_000).map(({ ms }) => ms);
  return { following, asked, calls, waits, pass, pauses };
}

/** Until nothing more happens by itself. */
function quiet(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 5));
}

describe('a phone that follows its feeds', () => {
  it('asks with the token in the header, and fetches once for all that is told at a time', async () => {
    const line = new Line();
    const { following, asked, calls } = phone([line]);
    line.raw('retry: 1500\n\n');
    line.say(['firm', 3], ['site:1', 8], ['firm', 4]);
    await quiet();
    expect(asked).toEqual(['https://firm.example/v1/sync/stream?client=me Bearer T text/event-stream']);
    expect([calls, following.live]).toEqual([[{ firm: 4, 'site:1': 8 }], true]);
    following.stop();
    expect(await following.done).toBeNull();
    expect(line.cancelled).toBe(true);
  });

  it('fetches one time after the other: what is told meanwhile is fetched afterwards, however it is cut into pieces', async () => {
    const line = new Line();
    const calls: Record<string, number>[] = [];
    const ends: (() => void)[] = [];
    const { following } = phone([line], {
      news: (tails) => {
        calls.push(Object.fromEntries(tails));
        return new Promise((resolve) => ends.push(() => resolve(true)));
      },
    });
    line.say(['a', 1]);
    await quiet();
    for (const sign of 'event: tail\ndata: {"feed":"a","tail":2}\n\n:\n\nevent: tail\ndata: {"feed":"b","tail":7}\n\nevent: tail\ndata: {"feed":"a","tail":3}\n\n')
      line.raw(sign);
    await quiet();
    expect(calls).toEqual([{ a: 1 }]);
    ends.shift()?.();
    await quiet();
    expect(calls).toEqual([{ a: 1 }, { a: 3, b: 7 }]);
    following.stop();
  });

  it('fetches again, a while later, what did not come, without anything else having to happen', async () => {
    const line = new Line();
    const calls: Record<string, number>[] = [];
    const answers = [async () => false, async () => Promise.reject(new Error('no signal')), async () => true];
    const { following, pass, pauses } = phone([line], {
      news: (tails) => {
        calls.push(Object.fromEntries(tails));
        return answers[calls.length - 1]?.() ?? Promise.resolve(true);
      },
    });
    line.say(['a', 1]);
    await quiet();
    line.say(['b', 2]);
    await quiet();
    expect(pauses()).toEqual([1_250]);
    pass('pause');
    await quiet();
    expect(pauses()).toEqual([2_250]);
    pass('pause');
    await quiet();
    expect(calls).toEqual([{ a: 1 }, { a: 1, b: 2 }, { a: 1, b: 2 }]);
    pass('pause');
    await quiet();
    expect(calls).toHaveLength(3);
    following.stop();
  });
});

describe('a line that is lost', () => {
  it('is opened again, later each time, and not before the time that the server named', async () => {
    const busy = new Line(503, { 'retry-after': '7' });
    const page = new Line(200, { 'content-type': 'text/html' });
    const good = new Line();
    const { following, asked, pass, pauses, calls } = phone([new Error('no signal'), busy, page, good]);
    const seen: number[][] = [];
    for (let time = 0; time < 3; time++) {
      await quiet();
      seen.push(pauses());
      pass('pause');
    }
    await quiet();
    expect(seen).toEqual([[1_250], [7_000 + 2_250], [4_250]]);
    expect([asked.length, page.cancelled]).toEqual([4, true]);
    good.say(['a', 1]);
    await quiet();
    good.raw(null);
    await quiet();
    // one that held begins from the shortest pause again
    expect([pauses(), calls, following.live]).toEqual([[1_250], [{ a: 1 }], false]);
    following.stop();
  });

  it('is taken for dead where it gives no sign, and kept where it gives one that means nothing', async () => {
    const [first, second] = [new Line(), new Line()];
    const { following, pass, asked } = phone([first, second]);
    first.say(['a', 1]);
    await quiet();
    first.raw(':\n\n');
    await quiet();
    pass('silence');
    await quiet();
    first.raw(':\n\n');
    await quiet();
    pass('silence');
    await quiet();
    expect(first.cancelled).toBe(false);
    pass('silence');
    await quiet();
    expect(first.cancelled).toBe(true);
    pass('pause');
    await quiet();
    expect(asked).toHaveLength(2);
    following.stop();
  });
});

describe('an end', () => {
  it.each([401, 403, 404, 406])('by an answer %i is for good, and says why', async (status) => {
    const { following } = phone([new Line(status)]);
    expect(await following.done).toMatchObject({ status, code: `code_${status}` });
  });

  it('for a right that was lost makes the phone ask what it may follow, and come again', async () => {
    const [first, second] = [new Line(), new Line()];
    const { following, calls, pass, asked } = phone([first, second]);
    first.raw('event: end\ndata: {"reason":"rights"}\n\n');
    first.raw(null);
    await quiet();
    expect(calls).toEqual([{}]);
    pass('pause');
    await quiet();
    expect(asked).toHaveLength(2);
    following.stop();
  });

  it('because another stream of the same client began is for good, or the two would end each other for ever', async () => {
    const line = new Line();
    const { following, asked } = phone([line, new Line()]);
    line.raw('event: end\ndata: {"reason":"replaced"}\n\n');
    expect(await following.done).toMatchObject({ code: 'replaced' });
    expect(asked).toHaveLength(1);
  });
});

it('a store stands where the server said, or it does not: behind, ahead, not begun, or not whole', async () => {
  const store = memoryStore();
  const state = { feed: 'a', cursor: 'c', seq: 5, count: 0, contentHash: '0', complete: true };
  await store.commit([{ put: 'feed', state }]);
  await store.commit([{ put: 'feed', state: { ...state, feed: 'b', complete: false } }]);
  const at = (members: Record<string, number>) => standsAt(store, new Map(Object.entries(members)));
  expect(await Promise.all([at({ a: 5 }), at({ a: 6 }), at({ a: 4 }), at({ b: 5 }), at({ c: 0 }), at({})])).toEqual([
    true,
    false,
    false,
    false,
    false,
    true,
  ]);
});
