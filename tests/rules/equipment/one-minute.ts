import type { EquipmentRecords } from '../../../src/rules/equipment/equipment-records.ts';
import { DAY } from './equipment-day.ts';

/** What a crew does with one pump, one after the other. */
export type Deed =
  | { readonly does: 'set-up'; readonly well: string }
  | { readonly does: 'leave' }
  | { readonly does: 'begin-decon' }
  | { readonly does: 'end-decon'; readonly isComplete: boolean }
  | { readonly does: 'install' | 'discard'; readonly part: string };

type When = (place: number) => string;

export const inOwnMinutes: When = (place) => `${DAY}T08:${String(place).padStart(2, '0')}:07-05:00`;
export const inOneMinute: When = (place) => `${DAY}T08:00:${String(place).padStart(2, '0')}-05:00`;
export const inOneSecond: When = () => `${DAY}T08:00:31-05:00`;

interface Open {
  readonly fields: Record<string, unknown>;
  rev: number;
}

/** The records of one phone; those of a later deed have lower ids, so that the ids tell the wrong order. */
export function recordsOf(deeds: readonly Deed[], when: When): EquipmentRecords {
  const lists = { visits: [], setUps: [], decons: [], partChanges: [] } as Record<string, Open[]>;
  let sequence = 40;
  const record = (list: string, kind: string, at: string, fields: Record<string, unknown>): Open => {
    sequence += 1;
    const clock = { wall: at, monotonicMs: 0, boot: 'boot-1', sequence, differenceMs: 0, uncertaintyMs: 0 };
    const id = `${kind}-${String(500 - sequence)}`;
    const made = { kind, id, rev: 1, voided: null, client: 'phone-1', clock, fields };
    lists[list]?.push(made);
    return made;
  };
  const opens: { visit?: Open; decon?: Open } = {};
  const end = (open: Open | undefined, fields: Record<string, unknown>) => {
    if (open === undefined) return;
    sequence += 1;
    open.rev += 1;
    Object.assign(open.fields, fields);
  };
  deeds.forEach((deed, place) => {
    const at = when(place);
    const observed = { at, captured: 'at-the-well' };
    if (deed.does === 'set-up') {
      const visit = { event: 'event-1', well: deed.well, crew: 'crew-1', arrived: at };
      opens.visit = record('visits', 'visit', at, visit);
      const { id } = opens.visit as unknown as { id: string };
      record('setUps', 'pump-set-up', at, { visit: id, pump: 'P-1', observed });
    }
    if (deed.does === 'begin-decon')
      opens.decon = record('decons', 'decon', at, { unit: 'P-1', protocol: 'pump-flush', began: at, observed });
    if (deed.does === 'leave') end(opens.visit, { left: at });
    if (deed.does === 'end-decon')
      end(opens.decon, { ended: at, ...(deed.isComplete ? {} : { labelText: 'incomplete' }) });
    if (deed.does === 'install' || deed.does === 'discard') {
      const action = deed.does === 'install' ? 'installed' : 'discarded';
      record('partChanges', 'part-change', at, { unit: 'P-1', part: deed.part, action, observed });
    }
  });
  return lists as unknown as EquipmentRecords;
}
