import type { RecordState } from '../../protocol/record.ts';
import { type EquipmentIndex, wellName } from '../equipment/equipment-index.ts';

/** What ids are called, by the records that are here. */
export interface ToldNames {
  readonly well: (id: string) => string;
  readonly crew: (id: string) => string | null;
  readonly part: (id: string) => string | null;
  readonly unit: (id: string) => string | null;
}

/** @param crews records of crews; what is not among them has no name here */
export function toldNames(index: EquipmentIndex, crews: readonly RecordState[]): ToldNames {
  const known = new Map(crews.map(({ id, fields }) => [id, String(fields.name)]));
  return {
    well: (id) => wellName(index, id),
    crew: (id) => known.get(id) ?? null,
    part: (id) => {
      const part = index.parts.get(id)?.fields;
      return part?.label ?? part?.lot ?? null;
    },
    unit: (id) => index.units.get(id)?.fields.label ?? null,
  };
}
