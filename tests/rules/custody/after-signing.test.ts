import { describe, expect, it } from 'vitest';
import type { StampedClock } from '../../../src/protocol/record.ts';
import { afterSigning } from '../../../src/rules/custody/contents-changes.ts';
import { coolerFacts } from '../../../src/rules/custody/cooler-facts.ts';
import type { CustodyVectorGiven } from '../../../src/rules/custody/custody-vector.ts';
import { contentsChangedAfterSigning } from '../../../src/rules/custody/rules/contents-changed-after-signing.ts';
import { signaturesOf } from '../../../src/rules/custody/signatures.ts';
import { vectorBeside, vectorFacts } from '../../../src/rules/custody/vector-facts.ts';
import { SamplesWorld } from '../samples/samples-world.ts';

const at = (clock: string) => `2026-05-04T${clock}:00-05:00`;

function sentence(given: CustodyVectorGiven): string | undefined {
  return contentsChangedAfterSigning.find(vectorFacts(given), vectorBeside(given))[0]?.sentence;
}

const added = (clock: string) => [{ label: 'MW-1-1', act: 'added', at: clock }] as const;

describe('what somebody signed for', () => {
  it('is what was there when the laboratory opened it, though nobody handed it over', () => {
    const receipt = { received: '17:00', receivedBy: 'Cy Loe' } as const;
    expect(sentence({ receipt, contents: added('17:30') })).toContain('after Cy Loe opened it 2026-05-04 17:00');
    expect(sentence({ receipt, contents: added('16:59') })).toBeUndefined();
  });

  it('went with a carrier by its number when it was last given away, and not at a hand-over before', () => {
    const hands = [
      ['out', '12:00', 'Ann Poe', { to: 'locked room' }],
      ['out', '17:00', 'Ann Poe'],
    ] as const;
    const cooler = { trackingNumber: '7001' };
    expect(sentence({ cooler, hands, contents: added('13:00') })).toBeUndefined();
    expect(sentence({ cooler, hands, contents: added('17:30') })).toContain('after Ann Poe relinquished it');
  });

  it('is still packed where a firm that carries it by itself gives it from one to another', () => {
    const hands = [
      ['out', '18:00', 'Ann Poe'],
      ['in', '18:05', 'Ben Roe'],
    ] as const;
    const cooler = { carrier: 'Example Field Services' };
    expect(sentence({ cooler, hands, contents: added('+1 11:00') })).toBeUndefined();
  });
});

it('two writers of whom nothing is known are not taken for one', () => {
  const signature = {
    ...{ record: 'h-1', at: at('17:00'), sinceMs: Date.parse(at('17:00')), uncertaintyMs: 10 * 60_000, untilMs: null },
    ...{ client: null, mutation: 9, says: 'Ann Poe relinquished it' },
  };
  const isAfter = (clock: string) => {
    const nobody = { by: null, initials: null, reason: null, other: null, client: null, mutation: null };
    const change = {
      container: 'b-1',
      label: 'B-1',
      act: 'added',
      at: at(clock),
      uncertaintyMs: 0,
      ...nobody,
    } as const;
    return afterSigning([change], [signature]).length > 0;
  };
  expect([isAfter('17:05'), isAfter('17:11')]).toEqual([false, true]);
});

it('a seal that was put on and broken in one record has both times by its clock', () => {
  const clock: StampedClock = {
    ...{ wall: at('21:00'), monotonicMs: 0, boot: 'b', sequence: 1 },
    ...{ differenceMs: 120 * 60_000, uncertaintyMs: 0 },
  };
  const observed = { at: at('15:00'), entered: at('15:00'), captured: 'at-the-well', readBy: 'ann', writtenBy: 'ann' };
  const seal = { cooler: 'c-1', number: 'S-1', applied: at('15:00'), broken: at('20:00'), observed };
  const of = new SamplesWorld()
    .add('cooler', 'c-1', { event: 'event-1', number: 'C1' })
    .add('seal', 's-1', seal, { client: 'p', clock })
    .samples();
  const [cooler] = of.coolers;
  if (!cooler) throw new Error('no cooler');
  const [signed] = signaturesOf(coolerFacts(cooler, of));
  expect([signed?.sinceMs, signed?.untilMs]).toEqual([Date.parse(at('17:00')), Date.parse(at('22:00'))]);
});
