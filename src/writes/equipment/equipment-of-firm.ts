import { coolerWorld, custodyDerived } from '../../rules/derive/custody-derived.ts';
import type { Derived } from '../../rules/derive/derived.ts';
import { equipmentDerived, equipmentSaid, isOfEquipment } from '../../rules/derive/equipment-derived.ts';
import { kitDerived, numbersDerived } from '../../rules/derive/event-derived.ts';
import { AT_NO_VISIT, atNoVisit, handedInDerived } from '../../rules/derive/handed-in-derived.ts';
import {
  containerDerived,
  isOfNoSample,
  labelsDerived,
  samplesDerived,
  sampleWorld,
} from '../../rules/derive/sample-derived.ts';
import { byRound, inRound, roundsOf, secondPurgesDerived } from '../../rules/derive/second-purge-derived.ts';
import { byKey } from '../../rules/equipment/by-key.ts';
import { type Entered, enteredOrder } from '../../rules/equipment/entered-order.ts';
import { EQUIPMENT_KINDS, recordsOfStates } from '../../rules/equipment/records-of-states.ts';
import type { Held } from '../../rules/held.ts';
import { Overlay } from '../../rules/overlay.ts';
import { NOW_AND_THEN } from './unit-seeds.ts';

const KEPT = [
  ...EQUIPMENT_KINDS.filter((kind) => !NOW_AND_THEN.includes(kind)),
  ...AT_NO_VISIT,
  ...['call', 'analyte-suite', 'planned-sample', 'site', 'flag-review'],
];

function enteredAs({ state: { id, fields } }: Held): Entered {
  return { id, at: (fields.observed as { readonly at: string }).at };
}

/** Of what is read now and then at one place, the first and the last tell all. */
function ends(readings: readonly Held[]): Held[] {
  const places = byKey(readings, ({ state: { kind, fields, voided } }) => {
    const { meter, tape, purge, visit } = fields;
    const unit = meter ?? tape;
    return typeof unit === 'string' && voided === null ? `${unit} ${kind} ${purge ?? visit}` : null;
  });
  return [...places.values()].flatMap((place) => {
    const sorted = place.toSorted((a, b) => enteredOrder(enteredAs(a), enteredAs(b)));
    return [...new Set([sorted[0], sorted.at(-1)])].filter((one) => one !== undefined);
  });
}

/** What the ledger of a firm says of its units, feed after feed, and what was derived from that. */
export class EquipmentOfFirm {
  readonly #world = new Overlay();
  readonly #stored = new Map<string, Held[]>();

  take(feed: string, held: readonly Held[]): void {
    this.#stored.set(feed, held.filter(isOfEquipment));
    const kept = held.filter(({ state }) => KEPT.includes(state.kind));
    const read = ends(held.filter(({ state }) => NOW_AND_THEN.includes(state.kind)));
    for (const one of [...kept, ...read]) this.#world.put({ ...one, memory: null });
  }

  #ofEvents(firm: string): Derived[] {
    const world = this.#world;
    const isStanding = ({ state, visit }: Held) =>
      state.voided === null && (visit === null || world.get(visit)?.state.voided === null);
    const numbered = byKey(
      [...world.ofKind('sample'), ...world.ofKind('blank')].filter(isStanding),
      ({ feed }) => feed,
    );
    return world.ofKind('event').flatMap((event) => {
      const checks = world.under(event.state.id).filter(({ state }) => state.kind === 'kit-check');
      const its = numbered.get(event.feed) ?? [];
      const handedIn = atNoVisit(event.state.id, world).flatMap((held) => handedInDerived(firm, held, world));
      return [...kitDerived(firm, checks, world), ...numbersDerived(firm, event, its, world), ...handedIn];
    });
  }

  #ofRounds(firm: string): Derived[] {
    const visits = this.#world.ofKind('visit');
    const [visitsAt, claimsAt] = [byRound(visits), byRound(this.#world.ofKind('well-claim'))];
    return roundsOf(visits).flatMap((round) =>
      secondPurgesDerived(firm, inRound(round, visitsAt), inRound(round, claimsAt), this.#world),
    );
  }

  #ofSamples(firm: string): Derived[] {
    const world = sampleWorld(this.#world);
    const containers = this.#world.ofKind('container');
    const ofFeed = byKey(containers, ({ feed }) => feed);
    return [
      ...this.#world.ofKind('visit').flatMap(({ state }) => samplesDerived(firm, state.id, world)),
      ...containers.filter(isOfNoSample).flatMap((container) => containerDerived(firm, container, world)),
      ...this.#world
        .ofKind('event')
        .flatMap((event) => labelsDerived(firm, event, ofFeed.get(event.feed) ?? [], this.#world)),
    ];
  }

  #ofCoolers(firm: string): Derived[] {
    const world = coolerWorld(this.#world);
    return this.#world.ofKind('cooler').flatMap((cooler) => custodyDerived(firm, cooler, world));
  }

  /** What is stored in each feed, and what should be, once all feeds were read. */
  compared(firm: string): readonly { feed: string; stored: readonly Held[]; wanted: readonly Derived[] }[] {
    const states = EQUIPMENT_KINDS.flatMap((kind) => this.#world.ofKind(kind)).map(({ state }) => state);
    const units = new Set(this.#world.ofKind('unit').map(({ state }) => state.id));
    const ofUnits = equipmentDerived(firm, equipmentSaid(recordsOfStates(states), units), this.#world);
    const ofEvents = [...this.#ofEvents(firm), ...this.#ofRounds(firm)];
    const wanted = [...ofUnits, ...ofEvents, ...this.#ofSamples(firm), ...this.#ofCoolers(firm)];
    const wantedIn = byKey(wanted, ({ feed }) => feed);
    return [...new Set([...this.#stored.keys(), ...wantedIn.keys()])].map((feed) => {
      return { feed, stored: this.#stored.get(feed) ?? [], wanted: wantedIn.get(feed) ?? [] };
    });
  }
}
