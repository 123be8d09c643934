import { describe, expect, it } from 'vitest';
import { bottleLabelled } from '../../src/client-node/crew/samples/bottle-labelled.ts';
import type { RecordState } from '../../src/protocol/record.ts';

function bottle(label: string): RecordState {
  const nobody = { voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
  return { kind: 'container', id: `id of ${label}`, rev: 1, ...nobody, fields: { label } };
}

const well = (name: string, count: number) =>
  Array.from({ length: count }, (_, at) => bottle(`${name}-${String(at + 1).padStart(2, '0')}`));
const ALL = [...well('W-101', 12), ...well('W-102', 12), ...well('W-201', 976)];

function refusal(near: readonly RecordState[], given: string): string {
  try {
    return String(bottleLabelled(ALL, near, given).fields.label);
  } catch (error) {
    return (error as Error).message;
  }
}

describe('a container by its label', () => {
  it('is found whatever the case of its letters, and whatever its well', () => {
    expect(bottleLabelled(ALL, well('W-101', 12), 'w-102-03').id).toBe('id of W-102-03');
  });

  it('that there is not: the nearest few of the well, and how many there are besides', () => {
    expect(refusal(well('W-101', 12), 'W-101-13')).toBe(
      'there is no one container "W-101-13": nearest are W-101-01, W-101-03, W-101-10, W-101-11, W-101-12; the event has 995 more: crew bottles WELL shows those of a well',
    );
  });

  it('that there is not, where no well is meant: the nearest of all', () => {
    const said = refusal(ALL, 'W-102-1');
    expect(said).toContain('nearest are W-102-01, W-102-02, W-102-10, W-102-11, W-102-12');
    expect(said.length).toBeLessThan(200);
  });

  it('of a well for which none is labelled says so', () => {
    expect(refusal([], 'X-1')).toContain('none is labelled for this well; the event has 1000 more');
  });

  it('says that none has come, where there is none', () => {
    expect(() => bottleLabelled([], [], 'X-1')).toThrow('none is known here yet: crew sync');
  });
});
