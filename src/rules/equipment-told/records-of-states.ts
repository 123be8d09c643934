import type { RecordState } from '../../protocol/record.ts';
import type { EquipmentRecords } from '../equipment/equipment-records.ts';
import { readable } from '../readable.ts';

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

/**
 * Kinds of which a field that is looked at here became known after phones could have filled it in: what stands there may
 * be of any form. Of the others each value was read when it came, and they are too many to be read again.
 */
const READ_AGAIN: readonly string[] = ['unit', 'well', 'event', 'sign-out'];

function asRead(kind: string, states: readonly RecordState[] = []): readonly RecordState[] {
  return READ_AGAIN.includes(kind) ? states.map(readable) : states;
}

/** What was stored, as records of equipment. */
export function recordsOfStates(states: States): EquipmentRecords {
  const lists = Object.entries(KINDS).map(([list, kinds]) => [
    list,
    kinds.flatMap((kind) => asRead(kind, states.get(kind))),
  ]);
  return Object.fromEntries(lists) as EquipmentRecords;
}
