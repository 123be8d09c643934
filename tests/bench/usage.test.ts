import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { PEER_ROWS } from './rows/peer.ts';
import { SAMPLE_ROWS } from './rows/samples.ts';
import { leftOut, ROWS, rowsAsked, USAGE } from './usage.ts';

describe('the rows of the benchmark', () => {
  it('that the help names are those that a run knows', () => {
    const run = readFileSync(path.join(import.meta.dirname, 'rounds.ts'), 'utf8');
    const known = [...run.matchAll(/(?:wanted|opened)\('([a-z-]+)'/g)].map(([, row]) => row);
    expect([...ROWS.keys()].toSorted()).toEqual([...new Set([...known, ...SAMPLE_ROWS, ...PEER_ROWS])].toSorted());
    for (const row of ROWS.keys()) expect(USAGE).toMatch(new RegExp(`^ {4}${row} `, 'm'));
  });

  it('that a run leaves out are named with how to have them, where nobody chose', () => {
    expect(leftOut(null, false, PEER_ROWS)).toMatch(/^left out: peer-push, peer-single, peer-bootstrap.*--peer/);
    expect(leftOut(null, true, PEER_ROWS)).toBeNull();
    expect(leftOut(['push'], false, PEER_ROWS)).toBeNull();
  });

  it('are refused where there is none of that name', () => {
    expect(rowsAsked('push, list')).toEqual(['push', 'list']);
    expect(rowsAsked(undefined)).toBeNull();
    expect(() => rowsAsked('push,lists')).toThrow('there is no row lists: give some of push, single');
  });
});
