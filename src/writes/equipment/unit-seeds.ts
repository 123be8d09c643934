import { isSameJson } from '../../protocol/same-json.ts';
import { unitStateId } from '../../rules/derive/equipment-derived.ts';
import { TELLING_OCCURRENCES } from '../../rules/equipment/telling-occurrences.ts';
import type { Held } from '../../rules/held.ts';
import type { Overlay } from '../../rules/overlay.ts';
import type { UnitSeeds } from '../../store/write/load-equipment.ts';
import type { Draft } from '../group.ts';
import { readsOn } from './reads-on.ts';
import { unitsOfVisit } from './units-of-visit.ts';

type Found = { -readonly [Key in keyof UnitSeeds]: Set<string> };

function noSeeds(): Found {
  const none = () => new Set<string>();
  return {
    units: none(),
    parts: none(),
    wells: none(),
    sampled: none(),
    events: none(),
    retyped: none(),
    visits: none(),
  };
}

function put(into: Set<string>, ...values: readonly unknown[]): void {
  for (const value of values) if (typeof value === 'string') into.add(value);
}

function changed({ held, before }: Draft, ...fields: readonly string[]): boolean {
  if (before === null) return false;
  if (!isSameJson(held.state.voided !== null, before.state.voided !== null)) return true;
  return fields.some((field) => !isSameJson(held.state.fields[field] ?? null, before.state.fields[field] ?? null));
}

/** What a record and what it was before have to do with units. */
class Seeding {
  readonly found = noSeeds();
  readonly #firm: string;
  readonly #overlay: Overlay;
  readonly #drafts: ReadonlyMap<string, Draft>;

  constructor(firm: string, overlay: Overlay, drafts: readonly Draft[]) {
    this.#firm = firm;
    this.#overlay = overlay;
    this.#drafts = new Map(drafts.map((draft) => [draft.held.state.id, draft]));
  }

  take(draft: Draft): void {
    for (const held of draft.before ? [draft.held, draft.before] : [draft.held]) this.#side(held, draft);
  }

  #side(held: Held, draft: Draft): void {
    const { kind, id, fields } = held.state;
    const { units, parts } = this.found;
    if (kind === 'unit') this.#unit(id, draft);
    else if (kind === 'part') put(parts, id);
    else if (kind === 'part-change') put(parts, fields.part);
    else if (kind === 'decon-step') put(parts, fields.part);
    else if (kind === 'well' && changed(draft, 'name', 'assignedClass', 'contaminants')) put(this.found.wells, id);
    else if (kind === 'event' && changed(draft, 'plan')) put(this.found.events, id);
    else if (kind === 'laboratory-result') this.#result(held);
    else if (AT_A_VISIT.includes(kind)) this.#atVisit(held, draft);
    else if (NOW_AND_THEN.includes(kind)) this.#nowAndThen(held, draft);
    if (NAMING_A_UNIT.includes(kind)) put(units, fields.unit);
    if (kind === 'decon-step' || kind === 'blank') this.#ofDecon(fields.decon);
  }

  #unit(id: string, draft: Draft): void {
    put(this.found.units, id);
    // the rating and the label of a regulator are told of the pump that it drives
    if (changed(draft, 'type', 'maximumPressurePsi', 'label')) put(this.found.retyped, id);
  }

  #ofDecon(decon: unknown): void {
    const draft = this.#drafts.get(String(decon));
    put(this.found.units, this.#overlay.get(String(decon))?.state.fields.unit, draft?.before?.state.fields.unit);
  }

  #result({ state: { fields } }: Held): void {
    const blank = this.#overlay.get(String(fields.blank))?.state.fields;
    put(this.found.units, blank?.unit);
    this.#ofDecon(blank?.decon);
    const visit = this.#overlay.get(String(fields.sample))?.visit ?? null;
    if (visit === null) return;
    put(this.found.visits, visit);
    put(this.found.units, ...unitsOfVisit(this.#overlay, visit));
    put(this.found.sampled, this.#overlay.get(visit)?.state.fields.well);
  }

  /** What all units of a visit are judged by; results of its samples go along to another well. */
  #atVisit(held: Held, draft: Draft): void {
    const { kind, fields } = held.state;
    const visit = held.visit ?? '';
    if (draft.before === null && (kind === 'visit' || kind === 'purge')) return;
    if (kind === 'occurrence' && !TELLING_OCCURRENCES.includes(String(fields.type))) return;
    put(this.found.units, ...unitsOfVisit(this.#overlay, visit), fields.pump, fields.flowCell);
    const isSampled = kind === 'visit' || (kind === 'sample' && draft.before !== null);
    if (isSampled) put(this.found.sampled, fields.well, this.#overlay.get(visit)?.state.fields.well);
  }

  #nowAndThen(held: Held, draft: Draft): void {
    const { meter, tape } = held.state.fields;
    for (const unit of [meter, tape]) {
      if (typeof unit !== 'string') continue;
      const state = this.#overlay.get(unitStateId(this.#firm, unit));
      if (!readsOn({ draft, unit, state, overlay: this.#overlay, drafts: this.#drafts })) put(this.found.units, unit);
    }
  }
}

const NAMING_A_UNIT = ['unit-service', 'decon', 'part-change', 'sign-out', 'unit-use', 'blank', 'calibration-check'];
const AT_A_VISIT = ['visit', 'purge', 'pump-set-up', 'unit-use', 'sample', 'occurrence'];
export const NOW_AND_THEN = ['reading', 'water-level', 'sounding'];

/** What the records that were changed have to do with units, as they are now and as they were. */
export function unitSeeds(firm: string, drafts: readonly Draft[], overlay: Overlay): UnitSeeds {
  const seeding = new Seeding(firm, overlay, drafts);
  for (const draft of drafts) seeding.take(draft);
  const lists = Object.entries(seeding.found).map(([name, ids]) => [name, [...ids].sort()]);
  return Object.fromEntries(lists) as unknown as UnitSeeds;
}
