import type { RecordState } from '../../protocol/record.ts';
import type { EquipmentRecords } from '../equipment/equipment-records.ts';

type States = ReadonlyMap<string, readonly RecordState[]>;

/** Under which kinds the records of each list go on the wire; results are asked for by themselves. */
const KINDS: { readonly [List in Exclude<keyof EquipmentRecords, 'results'>]-?: readonly string[] } = {
  units: ['unit'],
  wells: ['well'],
  events: ['event'],
  visits: ['visit'],
  setUps: ['pump-set-up'],
  purges: ['purge'],
  readings: ['reading'],
  checks: ['calibration-check'],
  occurrences: ['occurrence'],
  tapeRecords: ['water-level', 'sounding'],
  uses: ['unit-use'],
  samples: ['sample'],
  signOuts: ['sign-out'],
  services: ['unit-service'],
  decons: ['decon'],
  deconSteps: ['decon-step'],
  parts: ['part'],
  partChanges: ['part-change'],
  blanks: ['blank'],
};

/** What was stored, as records of equipment: each was checked by the definition of its kind before it was stored. */
export function recordsOfStates(states: States): EquipmentRecords {
  const lists = Object.entries(KINDS).map(([list, kinds]) => [list, kinds.flatMap((kind) => states.get(kind) ?? [])]);
  return Object.fromEntries(lists) as EquipmentRecords;
}
