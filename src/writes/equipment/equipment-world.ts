import type { EquipmentRecords } from '../../rules/equipment/equipment-records.ts';
import { EQUIPMENT_KINDS, recordsOfStates } from '../../rules/equipment/records-of-states.ts';
import type { Held, World } from '../../rules/held.ts';
import type { Overlay } from '../../rules/overlay.ts';
import type { PlacedState } from '../../store/write/load-equipment.ts';

/** What is stored around some units, overlaid with what was decided so far. */
export class EquipmentWorld implements Pick<World, 'get' | 'under'> {
  readonly #overlay: Overlay;
  readonly #stored: ReadonlyMap<string, PlacedState>;

  constructor(overlay: Overlay, stored: readonly PlacedState[]) {
    this.#overlay = overlay;
    this.#stored = new Map(stored.map((one) => [one.state.id, one]));
  }

  get(id: string): Held | undefined {
    const stored = this.#stored.get(id);
    return this.#overlay.get(id) ?? (stored && { ...stored, memory: null });
  }

  under(id: string): readonly Held[] {
    return this.#overlay.under(id);
  }

  records(): EquipmentRecords {
    const decided = EQUIPMENT_KINDS.flatMap((kind) => this.#overlay.ofKind(kind)).map(({ state }) => state);
    const stored = [...this.#stored.values()].map(({ state }) => state);
    return recordsOfStates([...decided, ...stored.filter(({ id }) => this.#overlay.get(id) === undefined)]);
  }
}
