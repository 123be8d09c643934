import type { UNIT_TYPES } from '../../src/protocol/kinds/unit.ts';
import type { Entry, IdOf } from './entry.ts';

interface UnitData {
  readonly label: string;
  readonly type: (typeof UNIT_TYPES)[number];
  readonly serial: string;
  readonly ownership?: 'owned' | 'rented';
  readonly wettedParts?: readonly { readonly part: string; readonly material: string }[];
  readonly flowCellVolumeMl?: string;
}

function pump(number: number, serial: string, bladder: string): UnitData {
  const wettedParts = [
    { part: 'body', material: 'stainless steel' },
    { part: 'inlet screen', material: 'stainless steel' },
    { part: 'check ball', material: 'stainless steel' },
    { part: 'O-rings', material: 'FKM rubber' },
    { part: 'bladder', material: bladder },
  ];
  return { label: `Bladder pump ${number}`, type: 'bladder-pump', serial, wettedParts };
}

/** By type only; makers and models are nobody's. Pump 4 has a PTFE bladder and stays away from PFAS. */
export const UNITS = [
  pump(1, 'P-20-0117', 'polyethylene'),
  pump(2, 'P-20-0118', 'polyethylene'),
  pump(3, 'P-22-0204', 'polyethylene'),
  pump(4, 'P-17-0041', 'PTFE'),
  { label: 'Meter 1', type: 'multi-parameter-meter', serial: 'M-21-3301' },
  { label: 'Meter 2', type: 'multi-parameter-meter', serial: 'M-21-3302' },
  { label: 'Meter 3', type: 'multi-parameter-meter', serial: 'M-23-3410' },
  { label: 'Meter 4', type: 'multi-parameter-meter', serial: 'R-88-0913', ownership: 'rented' },
  { label: 'Flow cell 1', type: 'flow-cell', serial: 'C-21-01', flowCellVolumeMl: '250' },
  { label: 'Flow cell 2', type: 'flow-cell', serial: 'C-21-02', flowCellVolumeMl: '250' },
  { label: 'Flow cell 3', type: 'flow-cell', serial: 'C-23-05', flowCellVolumeMl: '500' },
  { label: 'Tape 1', type: 'water-level-tape', serial: 'T-18-11' },
  { label: 'Tape 2', type: 'water-level-tape', serial: 'T-18-12' },
  { label: 'Tape 3', type: 'water-level-tape', serial: 'T-22-07' },
  { label: 'Controller 1', type: 'pump-controller', serial: 'K-20-31' },
  { label: 'Controller 2', type: 'pump-controller', serial: 'K-20-32' },
  { label: 'Controller 3', type: 'pump-controller', serial: 'K-22-40' },
  { label: 'Compressor 1', type: 'compressor', serial: 'A-19-02' },
] as const satisfies readonly UnitData[];

/** What a crew takes along: one of each. */
export interface Kit {
  readonly pump: string;
  readonly meter: string;
  readonly cell: string;
  readonly tape: string;
  readonly controller: string;
}

export function kit(number: 1 | 2 | 3): Kit {
  return {
    pump: `Bladder pump ${number}`,
    meter: `Meter ${number}`,
    cell: `Flow cell ${number}`,
    tape: `Tape ${number}`,
    controller: `Controller ${number}`,
  };
}

export function equipmentEntries(id: IdOf): Entry[] {
  return UNITS.map(({ ownership = 'owned', ...unit }: UnitData) => {
    return { kind: 'unit', id: id('unit', unit.label), set: { ...unit, use: 'shared', ownership } };
  });
}
