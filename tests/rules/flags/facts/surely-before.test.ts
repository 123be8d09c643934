import { describe, expect, it } from 'vitest';
import { surelyBefore, type Timed } from '../../../../src/rules/flags/facts/surely-before.ts';

const PHONE_A = '00000000-0000-7000-8000-0000000000aa';
const PHONE_B = '00000000-0000-7000-8000-0000000000bb';
const MINUTE = 60_000;

/** `off` is what has to be added to the device's clock; its wall clock shows the time itself unless `wall` is given. */
function timed(client: string, time: string, off: { differenceMs: number; wall?: string; rev?: number }): Timed {
  const at = `2026-05-04T${time}-05:00`;
  const wall = `2026-05-04T${off.wall ?? time}-05:00`;
  const clock = { wall, monotonicMs: 0, boot: 'b', sequence: 1, differenceMs: off.differenceMs, uncertaintyMs: 400 };
  return { client, rev: off.rev ?? 1, at, clock };
}

describe('whether one time surely lies before another', () => {
  it('compares what one device says by the minute, as a label has it', () => {
    const call = timed(PHONE_A, '10:42:40', { differenceMs: 0 });
    expect(surelyBefore(timed(PHONE_A, '10:42:00', { differenceMs: 0 }), call)).toBe(false);
    expect(surelyBefore(timed(PHONE_A, '10:41:00', { differenceMs: 0 }), call)).toBe(true);
    expect(surelyBefore(call, timed(PHONE_A, '10:41:00', { differenceMs: 0 }))).toBe(false);
  });

  it('corrects a phone whose clock is hours off before it compares it with another', () => {
    const lying = { differenceMs: 3 * 60 * MINUTE };
    const call = timed(PHONE_B, '10:42:00', { differenceMs: 0 });
    expect(surelyBefore(timed(PHONE_A, '07:45:00', lying), call)).toBe(false);
    expect(surelyBefore(timed(PHONE_A, '07:30:00', lying), call)).toBe(true);
  });

  it('leaves a small difference as doubt between devices', () => {
    const call = timed(PHONE_B, '10:42:00', { differenceMs: 0 });
    expect(surelyBefore(timed(PHONE_A, '10:38:00', { differenceMs: 5 * MINUTE }), call)).toBe(false);
    expect(surelyBefore(timed(PHONE_A, '10:36:00', { differenceMs: 5 * MINUTE }), call)).toBe(true);
  });

  it('does not correct a time that was typed from paper in the evening', () => {
    const paper = timed(PHONE_A, '10:30:00', { differenceMs: 3 * 60 * MINUTE, wall: '18:00:00' });
    expect(surelyBefore(paper, timed(PHONE_B, '10:42:00', { differenceMs: 0 }))).toBe(true);
  });

  it('takes times as entered where an amendment brought another clock, or none is known', () => {
    const lying = { differenceMs: 3 * 60 * MINUTE };
    const amended = timed(PHONE_B, '07:44:00', { differenceMs: 0, rev: 2 });
    expect(surelyBefore(amended, timed(PHONE_A, '07:42:00', lying))).toBe(false);
    expect(surelyBefore(timed(PHONE_A, '07:42:00', lying), amended)).toBe(true);
    const bare = { ...timed(PHONE_B, '10:41:00', { differenceMs: 0 }), clock: null };
    expect(surelyBefore(bare, timed(PHONE_A, '10:42:00', { differenceMs: 0 }))).toBe(true);
  });
});
