import type { Overlay } from '../../rules/overlay.ts';
import { readable } from '../../rules/readable.ts';

const NAMING: readonly (readonly [kind: string, fields: readonly string[]])[] = [
  ['pump-set-up', ['pump', 'flowCell']],
  ['unit-use', ['unit']],
  ['water-level', ['tape']],
  ['sounding', ['tape']],
  ['reading', ['meter']],
];

const FIELDS = new Map(NAMING);

/** The units that were at the well, by the records of a visit of which all are loaded. */
export function unitsOfVisit(overlay: Overlay, visit: string): readonly string[] {
  const named = overlay.ofVisit(visit).flatMap(({ state }) => {
    const fields = FIELDS.get(state.kind) ?? [];
    return fields.map((field) => readable(state).fields[field]);
  });
  return [...new Set(named.filter((one) => typeof one === 'string'))];
}
