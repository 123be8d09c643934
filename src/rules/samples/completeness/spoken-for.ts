import { analyteGroup } from '../../../catalog/analytes/analyte-groups.ts';
import { dayOf } from '../../custody/clocks.ts';
import { isSameAnalyte } from '../../decon/analyte-key.ts';
import { groupsOf } from '../groups-of.ts';
import type { BlankRecord, ContainerRecord, SampleRecord } from '../sample-records.ts';
import type { SamplesIndex } from '../samples-index.ts';

/** The samples that went the way of a blank, whatever they are for. */
export interface SpokenFor {
  readonly samples: readonly SampleRecord[];
  /** What they share with it, to follow "of 3 samples". */
  readonly because: string;
  /** Whether each has a bottle there for what the blank is for: then its suites need not be compared. */
  readonly isByBottle: boolean;
}

/** What was found in a blank. */
interface Found {
  readonly analyte: string;
  readonly casNumber?: string | null | undefined;
}

/** The suites of a blank that order an analyte; all of them where none says so. */
function suitesFor({ suites }: SamplesIndex, blank: BlankRecord, { analyte, casNumber }: Found): readonly string[] {
  const isOrdered = (name: string) =>
    (suites.get(name)?.fields.analytes ?? []).some((one) =>
      isSameAnalyte({ analyte: one.name, casNumber: one.casNumber }, { analyte, casNumber }),
    );
  const its = blank.fields.suites.filter(isOrdered);
  return its.length > 0 ? its : blank.fields.suites;
}

/**
 * Those with a bottle for the same groups of analytes in a cooler that the trip blank was in: their metals may have gone
 * with it, and their volatiles in another cooler with another blank. What was thrown away came to no laboratory.
 *
 * Source: a trip blank in each cooler with volatiles, a sampling plan, county file, doc 932734, page 226.
 */
export function travelledWith({ of }: Pick<SamplesIndex, 'of'>, blank: BlankRecord): SpokenFor {
  const sent = of.containers.filter(({ fields }) => fields.standing !== 'discarded' && fields.standing !== 'dropped');
  const its = sent.filter(({ fields }) => fields.blank === blank.id);
  const coolers = new Set(its.flatMap(({ fields }) => fields.cooler ?? []));
  const groups = new Set(its.flatMap(groupsOf));
  const isAlike = (one: ContainerRecord) => {
    const { suite } = one.fields;
    return groupsOf(one).some((group) => groups.has(group)) || (suite != null && blank.fields.suites.includes(suite));
  };
  const beside = sent.filter((one) => coolers.has(one.fields.cooler ?? '') && isAlike(one));
  const holders = new Set(beside.map(({ fields }) => fields.sample));
  return {
    samples: of.samples.filter(({ id }) => holders.has(id)),
    because: coolers.size === 0 ? 'as it is packed in no cooler' : 'in its cooler',
    isByBottle: true,
  };
}

/** Whether one field blank does for all days: as the plan says, else where what was found in it is of PFAS alone. */
function isOfWholeEvent({ of, suites }: SamplesIndex, its: readonly string[]): boolean {
  const per = of.event.fields.plan.sampling?.fieldBlanksPer;
  if (per != null) return per === 'event';
  const groups = its.flatMap((suite) => suites.get(suite)?.fields.groups ?? []);
  return groups.length > 0 && groups.every(({ group }) => analyteGroup(group)?.filling.fillClass === 'pfas');
}

/**
 * Those of its day at the site, and of its crew where the plan gave it to one.
 *
 * Source: a field blank a day with volatiles, a sampling plan, county file, doc 567537, page 35; for PFAS one an event,
 * California State Water Resources Control Board, guide on PFAS sampling, 2019. That it is of its crew is common practice,
 * no source.
 */
function takenWith(index: SamplesIndex, blank: BlankRecord, found: Found): SpokenFor {
  const { samples, site } = index.of;
  const crew = index.planned.get(blank.fields.planned ?? '')?.fields.crew ?? null;
  const isOfCrew = ({ fields }: SampleRecord) => crew === null || index.visits.get(fields.visit)?.fields.crew === crew;
  const day = (at: string) => dayOf(at, site?.fields.timeZone ?? null);
  const its = day(blank.fields.collected);
  const isWhole = isOfWholeEvent(index, suitesFor(index, blank, found));
  const ofDay = isWhole ? 'of its event' : `of ${its}`;
  return {
    samples: samples.filter((one) => isOfCrew(one) && (isWhole || day(one.fields.collected) === its)),
    because: crew === null ? ofDay : `of its crew ${ofDay}`,
    isByBottle: false,
  };
}

/** The samples that a field or trip blank may say something of, of this analyte. */
export function spokenFor(index: SamplesIndex, blank: BlankRecord, found: Found): SpokenFor {
  return blank.fields.type === 'trip' ? travelledWith(index, blank) : takenWith(index, blank, found);
}
