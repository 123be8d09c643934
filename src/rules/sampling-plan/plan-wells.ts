import type { SamplingPlan } from '../../protocol/sampling-plan.ts';
import type { EventSamples } from '../samples/event-samples.ts';
import type { WellRecord } from '../samples/sample-records.ts';
import { type LeavingKnown, type LeftWithout, leftWithout } from './left-without.ts';

/** A well of the event with what is to be sampled there. */
export interface WellToSample {
  readonly well: WellRecord;
  readonly suites: readonly string[];
  /** Null where no crew, or more than one, is assigned to it. */
  readonly crew: string | null;
  readonly splitWith: string | null;
  /** How it was left without a sample; null where it was not. */
  readonly left: LeftWithout | null;
  /** Why nothing is to be taken there any more; null while it is. */
  readonly outBecause: string | null;
}

export interface WellsOfPlan {
  /** By name. */
  readonly wells: readonly WellToSample[];
  readonly notes: readonly string[];
}

type Known = LeavingKnown & Pick<EventSamples, 'wells' | 'assignments'>;

/** Those that assignments name, and those for which the plan has suites; where no assignment names one, all in service. */
function namedWells({ wells, assignments }: Known, plan: SamplingPlan | null): readonly WellRecord[] {
  const assigned = new Set(assignments.flatMap(({ fields }) => fields.well ?? []));
  const ofPlan = new Set((plan?.wells ?? []).flatMap(({ well, suites }) => ((suites ?? []).length > 0 ? well : [])));
  return wells.filter(({ id, fields }) => {
    if (assigned.has(id) || ofPlan.has(id)) return true;
    return assigned.size === 0 && fields.standing === 'in-service';
  });
}

function suitesOf(known: Known, plan: SamplingPlan | null, well: string): readonly string[] {
  const own = plan?.wells?.find((one) => one.well === well)?.suites;
  const assigned = known.assignments.filter(({ fields }) => fields.well === well);
  return [...new Set(own ?? plan?.suites ?? assigned.flatMap(({ fields }) => fields.suites ?? []))];
}

function crewOf({ assignments }: Known, well: string): string | null {
  const crews = new Set(assignments.filter(({ fields }) => fields.well === well).map(({ fields }) => fields.crew));
  const [only = null] = crews;
  return crews.size === 1 ? only : null;
}

function byName(a: WellRecord, b: WellRecord): number {
  return a.fields.name < b.fields.name ? -1 : a.fields.name > b.fields.name ? 1 : a.id < b.id ? -1 : 1;
}

/** The wells of an event with their suites: by the plan for the well, by the plan for all, or as assigned. */
export function wellsOfPlan(known: Known): WellsOfPlan {
  const plan = known.event.fields.plan.sampling ?? null;
  const notes: string[] = [];
  const wells = namedWells(known, plan)
    .toSorted(byName)
    .flatMap((well): WellToSample[] => {
      const { name, standing } = well.fields;
      const suites = suitesOf(known, plan, well.id);
      if (standing === 'decommissioned') notes.push(`Well ${name} is decommissioned: nothing is planned there.`);
      else if (suites.length === 0)
        notes.push(`Nothing is planned at well ${name}: name suites in its assignment or in the plan of the event.`);
      if (standing === 'decommissioned' || suites.length === 0) return [];
      const splitWith = plan?.wells?.find((one) => one.well === well.id)?.splitWith ?? null;
      const left = leftWithout(known, well.id);
      const outBecause = left?.after === 'out' ? `it was left without a sample: ${left.said}` : null;
      return [{ well, suites, crew: crewOf(known, well.id), splitWith, left, outBecause }];
    });
  return { wells, notes };
}
