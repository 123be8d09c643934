import { instantMs } from '../../science/instant-ms.ts';
import { timeText } from '../custody/clocks.ts';
import type { EventSamples } from '../samples/event-samples.ts';
import type { VisitRecord } from '../samples/sample-records.ts';
import { endsWell } from '../well-order/ends-well.ts';

/** What becomes of a well that was left without a sample. */
export const AFTER_LEAVING = ['out', 'after-recovery', 'another-visit'] as const;
export type AfterLeaving = (typeof AFTER_LEAVING)[number];

/** How a well was left without a sample, by the last visit that was to take one. */
export interface LeftWithout {
  readonly visit: VisitRecord;
  readonly after: AfterLeaving;
  /** Its water ran short: nothing is asked of it beyond its sample. */
  readonly isShort: boolean;
  /** "purged-dry (no more than 2 L); Crew 1, 2026-05-04 11:00" */
  readonly said: string;
}

export type LeavingKnown = Pick<EventSamples, 'event' | 'site' | 'visits' | 'samples' | 'crews'>;

/**
 * Water that ran out during the purge comes back, and is sampled then; of a well that was found dry there is none to wait
 * for. Source: sampling plans, county file, doc 600417, page 52, and doc 453809, page 12 (within 24 hours).
 */
const COMES_BACK: readonly string[] = ['purged-dry', 'insufficient-water'];

function afterLeaving({ event }: LeavingKnown, { fields }: VisitRecord): AfterLeaving {
  if (!endsWell(fields, true)) return 'another-visit';
  return COMES_BACK.includes(fields.outcome ?? '') && event.fields.standing !== 'closed' ? 'after-recovery' : 'out';
}

/** Who and when, of a visit that ended: "Crew 1, 2026-05-04 11:00". */
export function crewAndTime({ site, crews }: Pick<LeavingKnown, 'site' | 'crews'>, { fields }: VisitRecord): string {
  const crew = crews.find(({ id }) => id === fields.crew)?.fields.name ?? fields.crew;
  return `${crew}, ${timeText(fields.left ?? fields.arrived, site?.fields.timeZone ?? null)}`;
}

function saidOf(known: LeavingKnown, visit: VisitRecord): string {
  const { outcome, outcomeReason, method } = visit.fields;
  const why = outcomeReason ? ` (${outcomeReason})` : '';
  return `${outcome ?? `without an outcome, ${method}`}${why}; ${crewAndTime(known, visit)}`;
}

/** Rounds of levels alone are no visit that was to take a sample. */
function wasToSample({ fields: { method, outcome } }: VisitRecord): boolean {
  return method !== 'gauging' || (outcome !== undefined && outcome !== 'gauged-only');
}

/**
 * Null while a crew is there, where a sample was taken, and where nobody was yet; also where a visit says that it sampled:
 * its sample is on a phone that has not spoken since.
 */
export function leftWithout(known: LeavingKnown, well: string): LeftWithout | null {
  const here = known.visits.filter(({ fields }) => fields.well === well);
  const ids = new Set(here.map(({ id }) => id));
  if (known.samples.some(({ fields }) => ids.has(fields.visit))) return null;
  const toSample = here.filter(wasToSample);
  if (toSample.some(({ fields }) => fields.left === undefined && fields.outcome === undefined)) return null;
  if (toSample.some(({ fields }) => fields.outcome === 'sampled')) return null;
  const last = toSample.toSorted((a, b) => instantMs(a.fields.arrived) - instantMs(b.fields.arrived)).at(-1);
  if (!last) return null;
  const isShort = COMES_BACK.includes(last.fields.outcome ?? '');
  return { visit: last, after: afterLeaving(known, last), isShort, said: saidOf(known, last) };
}
