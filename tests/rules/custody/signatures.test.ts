import { describe, expect, it } from 'vitest';
import type { RecordState, StampedClock } from '../../../src/protocol/record.ts';
import { clockCorrection } from '../../../src/rules/clock-correction.ts';
import { afterSigning, contentsChanges } from '../../../src/rules/custody/contents-changes.ts';
import { coolerFacts } from '../../../src/rules/custody/cooler-facts.ts';
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
  const ms = Date.parse(at(clock)) + clockCorrection(of).addMs;
  return contentsChanges(idOf('c-1'), [{ container: state.id, state, at: new Date(ms).toISOString() }], names).changes;
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
