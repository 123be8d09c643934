import { DEFAULT_DIRTIER_FACTOR, type Dirtier, dirtierThan } from './dirtier.ts';
import { compareRanks, type WellRank } from './well-rank.ts';

/** A well that a crew has to do, with what goes down it. */
export interface WellToDo {
  readonly well: string;
  /** Units and soft parts that go down this well and others too. Empty: its own pump, or one thrown away after it. */
  readonly sharedDownhole: readonly string[];
}

export type RankOf = (well: string) => WellRank | undefined;

function rankOr(rankOf: RankOf, well: string): WellRank {
  return rankOf(well) ?? { well, class: null, isAssigned: false, times: null, analyte: null, unseenTimes: null };
}

/**
 * The wells from the least to the most contaminated. A well with gear of its own may come at any time and keeps its place;
 * wells of which neither is dirtier stay in the order given.
 *
 * Source: from the least to the most contaminated, US EPA, RCRA Ground-Water Monitoring, Draft Technical Guidance, Nov
 * 1992, p. 7-18, read in a copy; so too for water levels, US Army depot SOP-011, rev. 0, Mar 2020, county file, doc
 * 919545, page 366.
 */
export function orderWells<Well extends WellToDo>(wells: readonly Well[], rankOf: RankOf): readonly Well[] {
  const shared = wells
    .filter(({ sharedDownhole }) => sharedDownhole.length > 0)
    .toSorted((a, b) => compareRanks(rankOr(rankOf, a.well), rankOr(rankOf, b.well)));
  const next = shared.values();
  return wells.map((well) => (well.sharedDownhole.length > 0 ? (next.next().value ?? well) : well));
}

/** A well that comes after a dirtier one with the same gear. It is flagged, and nobody is kept from it. */
export interface OrderDeviation {
  readonly well: string;
  /** The dirtiest of those before it. */
  readonly after: string;
  readonly shared: readonly string[];
  readonly by: Dirtier['by'];
  readonly sentence: string;
}

type Dirtiest = { readonly well: WellToDo; readonly rank: WellRank };

/** The dirtiest well so far of each unit: of what comes before, only that one counts. */
function dirtiestBefore(before: ReadonlyMap<string, Dirtiest>, { sharedDownhole }: WellToDo): Dirtiest | undefined {
  return sharedDownhole
    .flatMap((unit) => before.get(unit) ?? [])
    .reduce<Dirtiest | undefined>((a, b) => (a && compareRanks(a.rank, b.rank) >= 0 ? a : b), undefined);
}

/**
 * Where a planned or an actual order goes from dirty to clean by more than the factor, or from a worse class to a better.
 * None in the order that `orderWells` proposes.
 *
 * @param named wells and units by the names that people use
 * @param isBlankBetween whether a blank through the unit stands between two wells that follow each other in it
 */
export function orderDeviations<Well extends WellToDo>(
  wells: readonly Well[],
  rankOf: RankOf,
  named: (id: string) => string,
  factor: string = DEFAULT_DIRTIER_FACTOR,
  isBlankBetween: (unit: string, before: Well, after: Well) => boolean = () => false,
): readonly OrderDeviation[] {
  const before = new Map<string, Dirtiest>();
  const last = new Map<string, Well>();
  return wells.flatMap((well) => {
    for (const unit of well.sharedDownhole) {
      const latest = last.get(unit);
      if (latest && isBlankBetween(unit, latest, well)) before.delete(unit);
      last.set(unit, well);
    }
    const rank = rankOr(rankOf, well.well);
    const worst = dirtiestBefore(before, well);
    for (const unit of well.sharedDownhole) {
      const known = before.get(unit);
      if (!known || compareRanks(known.rank, rank) < 0) before.set(unit, { well, rank });
    }
    const found = worst && worst.well.well !== well.well ? dirtierThan(worst.rank, rank, factor) : null;
    if (!worst || !found) return [];
    const shared = well.sharedDownhole.filter((unit) => worst.well.sharedDownhole.includes(unit));
    const sentence = `${named(well.well)} comes after ${named(worst.well.well)} with the same ${shared.map(named).join(' and ')}: ${found.how}. Do it before, or take an equipment blank in between.`;
    return [{ well: well.well, after: worst.well.well, shared, by: found.by, sentence }];
  });
}
