import { describe, expect, it } from 'vitest';
import type { RecordState, StampedClock } from '../../../src/protocol/record.ts';
import { measuredCorrection } from '../../../src/rules/clock-correction.ts';
import { UNMEASURED_MS } from '../../../src/rules/custody/clocks.ts';
import { afterSigning, contentsChanges } from '../../../src/rules/custody/contents-changes.ts';
import { coolerFacts } from '../../../src/rules/custody/cooler-facts.ts';
import { contentsChangedAfterSigning } from '../../../src/rules/custody/rules/contents-changed-after-signing.ts';
import { signaturesOf, type Writers } from '../../../src/rules/custody/signatures.ts';
import { idOf, SamplesWorld } from '../samples/samples-world.ts';

const at = (clock: string) => `2026-05-04T${clock}:00-05:00`;
const names = { person: (id: string) => id, initials: () => null, cooler: () => null };

/** A clock that is so many minutes behind. */
function behind(minutes: number): StampedClock {
  return {
    wall: at('12:00'),
    monotonicMs: 0,
    boot: 'b',
    sequence: 1,
    differenceMs: minutes * 60_000,
    uncertaintyMs: 0,
  };
}

type Fields = Readonly<Record<string, unknown>>;

function observed(clock: string) {
  return { at: at(clock), entered: at(clock), captured: 'at-the-well', readBy: 'ann', writtenBy: 'ann' };
}

function signed(kind: 'seal' | 'hand-over', clock: string, more: Partial<RecordState>, fields: Fields = {}) {
  const seal = { number: 'S-1', applied: at(clock) };
  const hand = { side: 'relinquished', at: at(clock), name: 'Ann', organization: 'Example Field Services' };
  const its = { cooler: 'c-1', observed: observed(clock), ...(kind === 'seal' ? seal : hand), ...fields };
  const world = new SamplesWorld().add('cooler', 'c-1', { event: 'event-1', number: 'C-1', packed: at('09:00') });
  const of = world.add(kind, 'signed', its, more).samples();
  const [cooler] = of.coolers;
  if (!cooler) throw new Error('no cooler');
  return coolerFacts(cooler, of);
}

interface Packed {
  /** By the clock of its device. */
  readonly at: string;
  readonly clock?: StampedClock;
  readonly client?: string;
  readonly mutation?: number;
}

function packed({ at: clock, clock: of = behind(0), client = 'p', mutation = 3 }: Packed) {
  const state: RecordState = {
    ...{
      kind: 'container',
      id: idOf('b-1'),
      rev: 1,
      voided: null,
      by: 'ann',
      client,
      mutation,
      reason: null,
      clock: of,
    },
    fields: { event: idOf('event-1'), label: 'B-1', standing: 'filled', cooler: idOf('c-1') },
  };
  const { addMs, uncertaintyMs } = measuredCorrection(of, UNMEASURED_MS);
  const captured = new Date(Date.parse(at(clock)) + addMs).toISOString();
  const step = { container: state.id, state, at: captured, uncertaintyMs };
  return contentsChanges(idOf('c-1'), [step], names).changes;
}

function isAfter(facts: ReturnType<typeof signed>, one: Packed, writers?: Writers): boolean {
  return afterSigning(packed(one), signaturesOf(facts, writers)).length > 0;
}

const FIRST: Writers = new Map([[idOf('signed'), { client: 'p', mutation: 5 }]]);

describe('a signature that was changed since', () => {
  const changed = { rev: 2, client: 'office', mutation: 70, clock: behind(120) };

  it('keeps the clock of who signed: what their phone, hours behind, packed before it is none added after it', () => {
    for (const facts of [
      signed('seal', '15:00', changed, { broken: at('20:00') }),
      signed('hand-over', '15:00', changed),
    ]) {
      expect(isAfter(facts, { at: '14:00', clock: behind(120), client: 'q' })).toBe(false);
      expect(isAfter(facts, { at: '16:00', clock: behind(120), client: 'q' })).toBe(true);
    }
  });

  it('keeps the order in which one phone wrote, though its clock stepped back between', () => {
    const facts = signed('seal', '15:00', { ...changed, clock: behind(0) }, { broken: at('20:00') });
    expect(isAfter(facts, { at: '15:01', mutation: 3 }, FIRST)).toBe(false);
    expect(isAfter(facts, { at: '15:01', mutation: 6 }, FIRST)).toBe(true);
    expect(isAfter(facts, { at: '15:31', client: 'office', mutation: 3 }, FIRST)).toBe(true);
  });

  it('is broken when whoever broke it says so, by the clock of the first only where it is the same phone', () => {
    const by = (client: string) => signed('seal', '15:00', { ...changed, client }, { broken: at('20:00') });
    expect(isAfter(by('office'), { at: '20:30', client: 'q' }, FIRST)).toBe(false);
    expect(isAfter(by('p'), { at: '20:30', client: 'q' }, FIRST)).toBe(true);
  });
});

describe('a signature and a change by two clocks', () => {
  const of = (clock: StampedClock | null) => signed('hand-over', '17:00', { client: 'q', mutation: 5, clock });
  const within = (minutes: number, ms: number): StampedClock => ({ ...behind(minutes), uncertaintyMs: ms });

  it('are compared by what was measured, as small as it is', () => {
    for (const ahead of [3, 8, 11]) {
      const [before, after] = [`17:${String(ahead - 1).padStart(2, '0')}`, `17:${String(ahead + 1).padStart(2, '0')}`];
      const facts = of(within(1 / 60, 100));
      expect(isAfter(facts, { at: before, clock: within(-ahead, 100) })).toBe(false);
      expect(isAfter(facts, { at: after, clock: within(-ahead, 100) })).toBe(true);
    }
  });

  it('tell no order within what both may be off by', () => {
    expect(isAfter(of(within(1, 50_000)), { at: '17:02', clock: within(1, 80_000) })).toBe(false);
    expect(isAfter(of(within(1, 50_000)), { at: '17:02', clock: within(1, 60_000) })).toBe(true);
    expect(isAfter(of(null), { at: '17:15', clock: behind(0) })).toBe(false);
    expect(isAfter(of(null), { at: '17:16', clock: behind(0) })).toBe(true);
  });

  it('nor is it told whether a seal was broken yet', () => {
    const seal = signed('seal', '15:00', { client: 'q', mutation: 5 }, { broken: at('17:00') });
    expect(isAfter(seal, { at: '16:50' })).toBe(false);
    expect(isAfter(seal, { at: '16:40' })).toBe(true);
  });
});

describe('a signature whose time was read from a watch, as the phone is behind', () => {
  const facts = (clock: StampedClock) =>
    signed('hand-over', '17:00', { client: 'q', mutation: 5, clock }, { observed: observed('15:00') });

  it('is known from then on, and not from hours later', () => {
    expect(isAfter(facts(behind(120)), { at: '17:10', clock: behind(1) })).toBe(true);
    expect(isAfter(facts(behind(120)), { at: '16:58', clock: behind(1) })).toBe(false);
  });

  it('is corrected as any other where the clock is not behind by that much', () => {
    const ahead = signed('hand-over', '17:02', { client: 'q', clock: behind(-120) }, { observed: observed('17:00') });
    expect(isAfter(ahead, { at: '15:05', clock: behind(1) })).toBe(true);
    expect(isAfter(ahead, { at: '15:00', clock: behind(1) })).toBe(false);
  });
});

it('is told by the same clock as what came after it', () => {
  const told = (facts: ReturnType<typeof signed>) => {
    const contents = packed({ at: '15:40', clock: behind(120), client: 'q' });
    return contentsChangedAfterSigning.find(facts, { contents, former: [], twice: [], now: null })[0]?.sentence;
  };
  const late = signed('hand-over', '15:00', { client: 'p', clock: behind(120) });
  expect(told(late)).toContain(
    'added by ann 2026-05-04 17:40, after Ann relinquished it 2026-05-04 17:00 (by a clock that was off: 2026-05-04 15:00)',
  );
  const watch = signed('hand-over', '17:00', { client: 'p', clock: behind(120) }, { observed: observed('15:00') });
  expect(told(watch)).toContain('after Ann relinquished it 2026-05-04 17:00. ');
});
