import { describe, expect, it } from 'vitest';
import type { RecordState } from '../../../src/protocol/record.ts';
import { afterSigning, type ContainerStep, contentsChanges } from '../../../src/rules/custody/contents-changes.ts';
import type { Signature } from '../../../src/rules/custody/signatures.ts';

const at = (clock: string) => `2026-05-04T${clock}:00-05:00`;
const names = {
  person: (id: string) => id.toUpperCase(),
  initials: (id: string) => id.slice(0, 1),
  cooler: (id: string) => `number of ${id}`,
};

function step(clock: string, fields: object | null, more: Partial<RecordState> = {}): ContainerStep {
  const whole = { event: 'e', label: 'B-1', standing: 'filled', ...fields };
  const plain = { kind: 'container', id: 'b-1', rev: 1, voided: null, by: 'ann', client: 'p', mutation: 1 };
  const state = { ...plain, reason: null, clock: null, fields: whole, ...more };
  return { container: 'b-1', at: at(clock), uncertaintyMs: 0, state: fields === null ? null : state };
}

const acts = (steps: readonly ContainerStep[], cooler = 'c-1') =>
  contentsChanges(cooler, steps, names).changes.map(({ act, other }) => (other === null ? act : `${act}: ${other}`));

describe('what came into a cooler and left it', () => {
  it('is told of both coolers, with who did it and why', () => {
    const steps = [step('16:00', { cooler: 'c-1' }), step('18:00', { cooler: 'c-2' }, { reason: 'misread' })];
    expect(acts(steps)).toEqual(['added', 'taken out: number of c-2']);
    expect(acts(steps, 'c-2')).toEqual(['added: number of c-1']);
    expect(contentsChanges('c-1', steps, names).changes[1]).toMatchObject({
      by: 'ANN',
      initials: 'a',
      reason: 'misread',
    });
  });

  it('counts what was voided, discarded or left out as gone, and says how it was when it was in there', () => {
    const inside = step('16:00', { cooler: 'c-1', volumeMl: '40' });
    const voided = step('18:00', { cooler: 'c-1' }, { voided: { reason: 'never was', by: null } });
    expect(acts([inside, voided])).toEqual(['added', 'voided']);
    expect(acts([inside, step('18:00', { cooler: 'c-1', standing: 'discarded' })])).toEqual(['added', 'discarded']);
    expect(acts([inside, step('18:00', null)])).toEqual(['added', 'taken out']);
    expect(contentsChanges('c-1', [inside, voided], names).gone).toMatchObject([{ fields: { volumeMl: '40' } }]);
    expect(contentsChanges('c-1', [inside], names).gone).toEqual([]);
  });

  it('is nothing where only something else of a bottle changed', () => {
    const steps = [step('16:00', { cooler: 'c-1', standing: 'expected' }), step('18:00', { cooler: 'c-1', lot: 'L' })];
    expect(acts(steps)).toEqual(['added']);
  });
});

describe('a change after a signature', () => {
  const signed: Signature = {
    record: 'h-1',
    at: at('17:00'),
    sinceMs: Date.parse(at('17:00')),
    uncertaintyMs: 0,
    untilMs: null,
    client: 'p',
    mutation: 5,
    says: 'Ann relinquished it',
  };
  const foundAfter = (clock: string, more: Partial<RecordState>, signatures = [signed]) => {
    const { changes } = contentsChanges('c-1', [step(clock, { cooler: 'c-1' }, more)], names);
    return afterSigning(changes, signatures).map(({ signature }) => signature.record);
  };

  it('is none that the same phone wrote down before it, though its clock was moved', () => {
    expect(foundAfter('17:30', { mutation: 4 })).toEqual([]);
    expect(foundAfter('17:30', { mutation: 6 })).toEqual(['h-1']);
    expect(foundAfter('17:30', { client: 'other', mutation: 4 })).toEqual(['h-1']);
    expect(foundAfter('16:59', { client: 'other', mutation: 9 })).toEqual([]);
  });

  it('is told with the last signature before it', () => {
    const later = { ...signed, record: 'h-2', sinceMs: Date.parse(at('18:00')) };
    expect(foundAfter('18:30', { mutation: 9 }, [signed, later])).toEqual(['h-2']);
    expect(foundAfter('17:30', { mutation: 9 }, [signed, later])).toEqual(['h-1']);
  });
});
