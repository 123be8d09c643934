import type { EquipmentRecords, Recorded } from '../equipment-records.ts';

const DAY = '05-04';

export function instant(time: string): string {
  const [clock, day] = [time.slice(-5), time.length > 5 ? time.slice(0, 5) : DAY];
  return `2026-${day}T${clock}:00-05:00`;
}

export type Lists = { -readonly [Key in keyof Required<EquipmentRecords>]: Required<EquipmentRecords>[Key][number][] };

export function noRecords(): Lists {
  return {
    units: [],
    wells: [],
    events: [],
    visits: [],
    setUps: [],
    purges: [],
    readings: [],
    checks: [],
    occurrences: [],
    tapeRecords: [],
    uses: [],
    samples: [],
    signOuts: [],
    services: [],
    decons: [],
    deconSteps: [],
    parts: [],
    partChanges: [],
    blanks: [],
    results: [],
  };
}

export interface Stamp {
  readonly client?: string | undefined;
  readonly doubtMin?: number | undefined;
}

export function recorded<Fields>(
  kind: string,
  id: string,
  fields: Fields,
  at: string,
  stamp: Stamp = {},
): Recorded<Fields> {
  const { client = 'phone-1', doubtMin } = stamp;
  const clock = {
    wall: instant(at),
    monotonicMs: 0,
    boot: 'one',
    sequence: 1,
    differenceMs: 0,
    uncertaintyMs: (doubtMin ?? 0) * 60_000,
  };
  return { kind, id, rev: 1, voided: null, client, clock: doubtMin === undefined ? null : clock, fields };
}

export function seen(time: string) {
  return { at: instant(time), captured: 'at-the-well' as const };
}

/** The last visit that began before. */
export function visitAt({ visits }: Lists, at: string): string {
  return visits.findLast(({ fields }) => fields.arrived <= instant(at))?.id ?? '';
}
