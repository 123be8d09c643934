import { compare, decimalFraction } from '../../science/units/fraction.ts';
import { SUITABILITIES, type Suits, type WellOutlook } from './well-outlook.ts';

/** A QC sample of a well that is there already. */
export interface QcThere {
  readonly id: string;
  readonly suites: readonly string[];
  /** Of the sample that it is of, as planned now; empty where that is planned no more. */
  readonly parentSuites: readonly string[];
  readonly crew: string | null;
  /** Taken, or planned by a person: it counts as it is. */
  readonly isFixed: boolean;
}

/** A sample that may be duplicated or spiked. */
export interface QcCandidate {
  /** The planned sample. */
  readonly parent: string;
  readonly well: string;
  readonly name: string;
  readonly crew: string | null;
  readonly suites: readonly string[];
  readonly outlook: WellOutlook;
  readonly suits: Suits;
  /** QC of another type is planned there: one well is not asked for the water of both where another does as well. */
  readonly isBusy: boolean;
}

export interface QcChosen {
  /** Suites of each that stays. */
  readonly kept: ReadonlyMap<string, readonly string[]>;
  readonly dropped: readonly string[];
  readonly added: readonly { readonly candidate: QcCandidate; readonly suites: readonly string[] }[];
  /** Suites of which some are still owed, as no well suits. */
  readonly short: readonly string[];
}

/** How many of a suite are still owed. */
type Owed = Map<string, number>;

function take(owed: Owed, suites: readonly string[]): void {
  for (const suite of suites) owed.set(suite, (owed.get(suite) ?? 0) - 1);
}

function owedOf(owed: Owed, suites: readonly string[]): readonly string[] {
  return suites.filter((suite) => (owed.get(suite) ?? 0) > 0);
}

const ZERO = decimalFraction('0');

/** How many a crew has against its share of the wells: QC is spread over the crews. */
class CrewLoads {
  readonly #taken = new Map<string | null, number>();
  readonly #wells = new Map<string | null, number>();

  constructor(candidates: readonly QcCandidate[], there: readonly QcThere[]) {
    for (const { crew } of candidates) this.#wells.set(crew, (this.#wells.get(crew) ?? 0) + 1);
    for (const { crew } of there) this.add(crew);
  }

  add(crew: string | null): void {
    this.#taken.set(crew, (this.#taken.get(crew) ?? 0) + 1);
  }

  of(crew: string | null): number {
    return (this.#taken.get(crew) ?? 0) / Math.max(1, this.#wells.get(crew) ?? 0);
  }
}

/** The order in which candidates come: by what suits, by how much of what is owed they bring, by other QC there, by crew, by results. */
export function compareCandidates(
  a: QcCandidate,
  b: QcCandidate,
  brings: (one: QcCandidate) => number,
  loadOf: (crew: string | null) => number,
): number {
  return (
    SUITABILITIES.indexOf(a.suits.suits) - SUITABILITIES.indexOf(b.suits.suits) ||
    brings(b) - brings(a) ||
    Number(a.isBusy) - Number(b.isBusy) ||
    loadOf(a.crew) - loadOf(b.crew) ||
    compare(b.outlook.rank?.times ?? ZERO, a.outlook.rank?.times ?? ZERO) ||
    (a.name < b.name ? -1 : a.name > b.name ? 1 : a.parent < b.parent ? -1 : 1)
  );
}

/** What is fixed counts first; then, in the order of their ids, those that are planned, as far as they are still owed. */
function keep(owed: Owed, there: readonly QcThere[]): Pick<QcChosen, 'kept' | 'dropped'> {
  const kept = new Map<string, readonly string[]>();
  const dropped: string[] = [];
  const planned = there.filter(({ isFixed }) => !isFixed).toSorted((a, b) => (a.id < b.id ? -1 : 1));
  for (const one of there.filter(({ isFixed }) => isFixed)) {
    take(owed, one.suites);
    kept.set(one.id, one.suites);
  }
  for (const one of planned) {
    const still = owedOf(
      owed,
      one.suites.filter((suite) => one.parentSuites.includes(suite)),
    );
    take(owed, still);
    if (still.length > 0) kept.set(one.id, still);
    else dropped.push(one.id);
  }
  // what lacks is taken along where a QC sample is planned already, before a further well is chosen
  for (const one of planned.filter(({ id }) => kept.has(id))) {
    const its = kept.get(one.id) ?? [];
    const more = owedOf(
      owed,
      one.parentSuites.filter((suite) => !its.includes(suite)),
    );
    take(owed, more);
    kept.set(
      one.id,
      one.parentSuites.filter((suite) => its.includes(suite) || more.includes(suite)),
    );
  }
  return { kept, dropped };
}

/**
 * Which wells get a QC sample, so that of each suite there are as many as its frequency asks for: those that are planned
 * stay where they are, as far as they are still asked for; what lacks goes to the wells that suit best.
 *
 * @param asked how many of each suite
 * @param candidates samples without such a QC sample
 */
export function chooseQc(
  asked: ReadonlyMap<string, number>,
  there: readonly QcThere[],
  candidates: readonly QcCandidate[],
): QcChosen {
  const owed: Owed = new Map(asked);
  const { kept, dropped } = keep(owed, there);
  const loads = new CrewLoads(
    candidates,
    there.filter(({ id }) => kept.has(id)),
  );
  const left = new Set(candidates.filter(({ suits }) => suits.suits !== 'no'));
  const added: QcChosen['added'][number][] = [];
  const brings = (one: QcCandidate) => owedOf(owed, one.suites).length;
  for (;;) {
    let best: QcCandidate | null = null;
    for (const one of left) {
      if (brings(one) === 0) continue;
      if (!best || compareCandidates(one, best, brings, (crew) => loads.of(crew)) < 0) best = one;
    }
    if (!best) break;
    const suites = owedOf(owed, best.suites);
    take(owed, suites);
    loads.add(best.crew);
    left.delete(best);
    added.push({ candidate: best, suites });
  }
  return { kept, dropped, added, short: [...owed].flatMap(([suite, count]) => (count > 0 ? suite : [])) };
}
