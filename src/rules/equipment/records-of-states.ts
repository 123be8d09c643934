import type { RecordState } from '../../protocol/record.ts';
import { readable } from '../readable.ts';
import type { EquipmentRecords } from './equipment-records.ts';
import { readingEnds } from './meters/reading-ends.ts';

type Lists = { -readonly [Key in keyof Required<EquipmentRecords>]: Required<EquipmentRecords>[Key][number][] };

/** Under which list the records of a kind are looked at. */
const LIST_OF_KIND: Readonly<Record<string, keyof Lists>> = {
  unit: 'units',
  well: 'wells',
  event: 'events',
  visit: 'visits',
  'pump-set-up': 'setUps',
  purge: 'purges',
  reading: 'readings',
  'calibration-check': 'checks',
  occurrence: 'occurrences',
  'water-level': 'tapeRecords',
  sounding: 'tapeRecords',
  'unit-use': 'uses',
  sample: 'samples',
  'sign-out': 'signOuts',
  'unit-service': 'services',
  decon: 'decons',
  'decon-step': 'deconSteps',
  part: 'parts',
  'part-change': 'partChanges',
  blank: 'blanks',
  'laboratory-result': 'results',
};

export const EQUIPMENT_KINDS = Object.keys(LIST_OF_KIND);

function noRecords(): Lists {
  const lists = Object.values(LIST_OF_KIND).map((list) => [list, []]);
  return Object.fromEntries(lists) as unknown as Lists;
}

/** What of these records says something of equipment, as the rules may look at it; each id once, readings first and last. */
export function recordsOfStates(states: Iterable<RecordState>): EquipmentRecords {
  const lists = noRecords();
  const readings: RecordState[] = [];
  for (const state of states) {
    const list = LIST_OF_KIND[state.kind];
    // the shape of each kind is that of its list: see the kinds of the protocol
    if (list === 'readings') readings.push(state);
    else if (list) (lists[list] as RecordState[]).push(readable(state));
  }
  lists.readings = readingEnds(readings).map(readable) as unknown as Lists['readings'];
  return lists;
}
