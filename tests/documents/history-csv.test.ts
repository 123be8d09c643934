import { describe, expect, it } from 'vitest';
import { historyCsvHead, historyCsvLines } from '../../src/documents/history/history-csv.ts';
import type { HistoryEntry } from '../../src/rules/record-history/history-entry.ts';
import { readCsv } from './read-csv.ts';

const clock = { wall: '2026-05-04T09:00:00-05:00', monotonicMs: 1, boot: 'a', sequence: 1, differenceMs: 250 };

function entry(rev: number, device: string): HistoryEntry {
  const state = { kind: 'reading', id: 'r', rev, voided: null, by: null, fields: {}, clock };
  const fact = { id: 'r', kind: 'reading', rev, feed: 'event:e', seq: rev, client: 'c', mutation: rev };
  const change = { field: 'ph', was: rev === 1 ? null : '7.00', is: '7.10' };
  const told = {
    act: rev === 1 ? 'recorded' : 'corrected',
    names: new Map(),
    device,
    handedInBy: null,
    changes: [change],
  };
  return { ...fact, ...told, state, receivedAt: '2026-05-04T15:00:00Z' } as unknown as HistoryEntry;
}

describe('the clock of a device in a history', () => {
  it('stands beside what was captured by it, and not beside what another device changed later', () => {
    const text = historyCsvHead() + historyCsvLines(entry(1, 'one')) + historyCsvLines(entry(2, 'other'));
    const [head = [], ...lines] = readCsv(text);
    const cell = (line: readonly string[], name: string) => line[head.indexOf(name)];
    expect(
      lines.map((line) => [cell(line, 'revision'), cell(line, 'device_clock'), cell(line, 'device_clock_off_ms')]),
    ).toEqual([
      ['1', clock.wall, '250'],
      ['2', '', ''],
    ]);
  });
});
