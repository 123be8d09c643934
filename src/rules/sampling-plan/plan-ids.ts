import { derivedId } from '../derived-id.ts';
import type { PlanningFacts } from './planning-facts.ts';

type Known = Pick<PlanningFacts, 'firm' | 'voided'> & { readonly event: string };

/** So many places may lie empty between those in use. */
const GAPS = 50;

/** What a person voided was a mistake: what is planned in its place has an id of its own. */
function firstLiving({ firm, voided }: Known, parts: readonly string[]): string {
  for (let turn = 0; ; turn += 1) {
    const id = derivedId(firm, ...parts, ...(turn === 0 ? [] : [String(turn)]));
    if (!voided.has(id)) return id;
  }
}

/**
 * The ids of what a plan makes: the same for the same thing, whoever plans it and how often, so that nothing is planned
 * twice, and so that a plan knows what it made from what a person made.
 */
export class PlanIds {
  readonly #known: Known;

  constructor(facts: PlanningFacts) {
    this.#known = { firm: facts.firm, voided: facts.voided, event: facts.samples.event.id };
  }

  normal(well: string): string {
    return this.#of('normal', well);
  }

  /** A duplicate, a spike or a split of a planned sample. */
  of(what: 'duplicate' | 'matrix-spike' | 'split', parent: string): string {
    return this.#of(what, parent);
  }

  /** One of the blanks of a type, counted from 1: which day or cooler it is for may change. */
  blank(type: string, place: number): string {
    return this.#of(type, String(place));
  }

  /** One of the containers of a planned sample for a group, counted from 1. */
  container(planned: string, group: string, place: number): string {
    return firstLiving(this.#known, ['planned-container', planned, group, String(place)]);
  }

  /** Which of the containers of a planned sample a plan made: their ids tell. */
  ownContainers(planned: string, groups: readonly string[]): ReadonlySet<string> {
    const most = new Map<string, number>();
    // what was voided left a gap among the places
    for (const group of groups) most.set(group, (most.get(group) ?? Math.min(this.#known.voided.size, GAPS)) + 1);
    return new Set(
      [...most].flatMap(([group, count]) =>
        Array.from({ length: count }, (_, at) => this.container(planned, group, at + 1)),
      ),
    );
  }

  /** Which of so many blanks of a type a plan made. */
  ownBlanks(type: string, count: number): ReadonlySet<string> {
    const most = count + Math.min(this.#known.voided.size, GAPS);
    return new Set(Array.from({ length: most }, (_, at) => this.blank(type, at + 1)));
  }

  #of(...parts: readonly string[]): string {
    return firstLiving(this.#known, ['planned-sample', this.#known.event, ...parts]);
  }
}
