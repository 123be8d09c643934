import { describe, expect, it } from 'vitest';
import { changedAt } from '../../../src/reads/custody/contents.ts';
import { afterSigning, contentsChanges } from '../../../src/rules/custody/contents-changes.ts';

const SIGNED = '2026-05-04T17:00:00.000Z';
const HEARD = '2026-05-04T20:00:00.000Z';
const names = { person: () => null, initials: () => null, cooler: () => null };
const signature = {
  ...{ record: 'h', at: SIGNED, sinceMs: Date.parse(SIGNED), uncertaintyMs: 0, untilMs: null },
  ...{ client: 'other', mutation: 1, says: 'Ann Poe relinquished it' },
};

function isAsked(client: string, clock: Parameters<typeof changedAt>[0]['clock']): boolean {
  const fields = { event: 'e', label: 'B-1', standing: 'filled', cooler: 'c-1' };
  const plain = {
    kind: 'container',
    id: 'b-1',
    rev: 2,
    voided: null,
    by: null,
    mutation: 7,
    reason: null,
    clock: null,
  };
  const state = { ...plain, client, fields };
  const when = changedAt({ clock, receivedAt: HEARD }, client === 'phone');
  const { changes } = contentsChanges('c-1', [{ container: 'b-1', state, ...when }], names);
  return afterSigning(changes, [signature]).length > 0;
}

describe('when a bottle was packed', () => {
  it('is not known where the ledger has no clock of the phone: it may have packed before it had a signal', () => {
    expect(isAsked('phone', null)).toBe(false);
    expect(isAsked('office', null)).toBe(true);
  });

  it('is as the phone says, by what its clock was measured to be off', () => {
    const clock = { wall: '2026-05-04T16:00:00Z', monotonicMs: 0, boot: 'b', sequence: 1, uncertaintyMs: 20 };
    expect(isAsked('phone', { ...clock, differenceMs: 59 * 60_000 })).toBe(false);
    expect(isAsked('phone', { ...clock, differenceMs: 61 * 60_000 })).toBe(true);
  });
});
