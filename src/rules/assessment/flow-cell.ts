import type { AssessmentInput, SetUpRecord } from './assessment-input.ts';

/**
 * The volume of the flow cell at a reading: as the set-up says, of the cell that was set up, or of the cell that the
 * meter of the reading is built into; null where nobody recorded it.
 */
export function flowCellVolumes(units: AssessmentInput['units'], setUp: SetUpRecord | null) {
  const cell = setUp?.fields.flowCell;
  const ofCell = cell === undefined ? undefined : units.get(cell)?.fields.flowCellVolumeMl;
  const fixed = setUp?.fields.flowCellVolumeMl ?? ofCell;
  return (meter: string | undefined): string | null => {
    if (fixed !== undefined || meter === undefined) return fixed ?? null;
    return units.get(meter)?.fields.flowCellVolumeMl ?? null;
  };
}
