import { describe, expect, it } from 'vitest';
import { assess, call, every5Min, idOf } from './purge-fixture.ts';

const steady = every5Min([{}, {}, {}]);
const moving = every5Min([{ ph: '7.0' }, { ph: '7.3' }, { ph: '7.6' }]);

describe('the call of the person', () => {
  it('[A9] agrees where the readings before it say the same', () => {
    const result = assess({ readings: steady, calls: [call({ time: '10:11' }, 'stable')] });
    expect(result.call).toEqual({
      agreement: 'agrees',
      call: idOf('call 2026-05-04T10:11:00-05:00'),
      stableThen: true,
      because: 'The readings before the call say the same.',
    });
  });

  it('[A9] differs because of what was not stable then', () => {
    const { call: made } = assess({ readings: moving, calls: [call({ time: '10:11' }, 'stable')] });
    expect(made).toMatchObject({ agreement: 'differs', stableThen: false });
    expect(made.because).toBe(
      'The call differs because the readings before it were not stable: pH: Largest minus smallest is 0.6 pH, beyond 0.1 pH.',
    );
  });

  it('[A9] looks only at what was read before the call', () => {
    const readings = every5Min([{}, {}, {}, { ph: '8.0' }]);
    const result = assess({ readings, calls: [call({ time: '10:12' }, 'stable')] });
    expect(result.stable).toBe(false);
    expect(result.call.agreement).toBe('agrees');
    const early = assess({ readings: steady, calls: [call({ time: '10:07' }, 'stable')] });
    expect(early.call.because).toContain('2 of 3 readings at least 5 min apart.');
    const before = assess({ readings: steady, calls: [call({ time: '09:59' }, 'stable')] });
    expect(before.call).toMatchObject({ agreement: 'differs', stableThen: false });
    expect(before.call.because).toContain('No reading yet');
  });

  it.each(['not-stable-sampled', 'not-stable-stopped', 'purging-continued'] as const)(
    '[A9] agrees with %s while it is not stable, and differs once it is',
    (decision) => {
      const calls = [call({ time: '10:11' }, decision)];
      expect(assess({ readings: moving, calls }).call.agreement).toBe('agrees');
      const differs = assess({ readings: steady, calls }).call;
      expect(differs.agreement).toBe('differs');
      expect(differs.because).toBe('The call differs because every criterion was met by the readings before it.');
    },
  );

  it('[A9] takes no side on a well that was purged dry, nor where nobody called', () => {
    const dry = assess({ readings: moving, calls: [call({ time: '10:11' }, 'purged-dry')] }).call;
    expect(dry).toMatchObject({ agreement: 'none', stableThen: false });
    expect(assess({ readings: moving }).call).toEqual({ agreement: 'none' });
  });

  it('[A9] takes the latest call that stands', () => {
    const calls = [
      call({ time: '10:30' }, 'stable'),
      call({ time: '10:11' }, 'purging-continued'),
      call({ time: '10:40', voided: true }, 'not-stable-stopped'),
    ];
    expect(assess({ readings: steady, calls }).call.call).toBe(idOf('call 2026-05-04T10:30:00-05:00'));
  });
});
