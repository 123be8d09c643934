import { EventEmitter } from 'node:events';
import type { ServerResponse } from 'node:http';
import { describe, expect, it } from 'vitest';
import { EventStream } from '../../../src/doors/sync/event-stream.ts';

/** A line that takes so many writes and then no more, until it drains. */
class Line extends EventEmitter {
  readonly written: string[] = [];
  takes = Number.POSITIVE_INFINITY;
  writableEnded = false;
  destroyed = false;

  write(bytes: Buffer | string): boolean {
    this.written.push(String(bytes));
    this.takes -= 1;
    return this.takes > 0;
  }

  end(bytes: string): void {
    this.written.push(bytes);
    this.writableEnded = true;
  }

  destroy(): void {
    this.destroyed = true;
  }
}

function open(): { line: Line; stream: EventStream } {
  const line = new Line();
  return { line, stream: new EventStream(line as unknown as ServerResponse, performance.now()) };
}

function event(feed: string, tail: number): string {
  return `event: tail\ndata: {"feed":"${feed}","tail":${tail}}\n\n`;
}

describe('a reader that takes too little', () => {
  it('[L5] costs one place a feed, and is told the latest of each when it takes again', () => {
    const { line, stream } = open();
    line.takes = 1;
    stream.tell(new Map([['a', 1]]));
    for (let tail = 2; tail < 10_000; tail++) stream.tell(new Map([[tail % 2 ? 'a' : 'b', tail]]));
    expect(line.written).toEqual([event('a', 1)]);
    line.takes = 5;
    line.emit('drain');
    expect(line.written[1]?.split('\n\n').filter(Boolean).sort()).toEqual(
      [event('a', 9_999), event('b', 9_998)].map((text) => text.trim()),
    );
    stream.tell(new Map([['a', 10_000]]));
    expect(line.written[2]).toBe(event('a', 10_000));
  });

  it('[L5] is dropped after a while, and its connection with it', () => {
    const { line, stream } = open();
    line.takes = 1;
    stream.tell(new Map([['a', 1]]));
    const nowMs = performance.now();
    expect(stream.tick(nowMs + 9_000, 15_000, 10_000)).toBe(true);
    expect(stream.tick(nowMs + 10_100, 15_000, 10_000)).toBe(false);
    stream.end('closing');
    expect([line.destroyed, line.written.length]).toEqual([true, 1]);
  });
});

describe('a stream on which nothing happens', () => {
  it('[L5] says a word that means nothing now and then, and none besides', () => {
    const { line, stream } = open();
    const nowMs = performance.now();
    stream.tick(nowMs + 14_000, 15_000, 10_000);
    expect(line.written).toEqual([]);
    stream.tick(nowMs + 15_001, 15_000, 10_000);
    expect(line.written).toEqual([':\n\n']);
  });

  it('[L7] says why it ends, once', () => {
    const { line, stream } = open();
    stream.end('revoked');
    stream.end('closing');
    stream.tell(new Map([['a', 1]]));
    expect(line.written).toEqual(['event: end\ndata: {"reason":"revoked"}\n\n']);
  });
});
