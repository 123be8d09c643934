import { Temporal } from 'temporal-polyfill';
import { instantMs } from '../../science/instant-ms.ts';
import type { CheckRecord } from '../samples/sample-records.ts';
import type { CoolerFacts } from './cooler-facts.ts';
import { isToAnotherFirm } from './leaves-firm.ts';

/** A midnight through which a cooler was kept, with who looked after it then. */
export interface Night {
  /** The day of its evening, by the calendar of the site. */
  readonly day: string;
  readonly checks: readonly CheckRecord[];
}

/** A look counts for a night from noon to noon. Own choice, no source. */
const AROUND_MS = 12 * 3_600_000;
/** Longer than any round; what is kept for longer has a wrong date in it. */
const MOST_NIGHTS = 60;

/** From when until when those who sample kept it; null where that is not known. */
export function keptFrom({ cooler, custody, seals }: CoolerFacts): string | null {
  return cooler.fields.packed ?? seals[0]?.fields.applied ?? custody.stretches[0]?.from ?? null;
}

/**
 * When it was given to a carrier or came to the laboratory; null while it is kept. Where nobody said for whom they
 * signed, the last that gave it away counts: a carrier who brings it to the laboratory mostly signs nothing there.
 */
export function keptUntil({ custody: { changes } }: CoolerFacts): string | null {
  const last = changes.find(isToAnotherFirm) ?? changes.findLast((one) => one.relinquished) ?? changes.at(-1);
  return last?.relinquished?.at ?? last?.received?.at ?? null;
}

function nightOf(midnight: Temporal.ZonedDateTime, checks: readonly CheckRecord[], from: number, until: number): Night {
  const ms = midnight.epochMilliseconds;
  const within = ({ fields }: CheckRecord) => {
    const at = instantMs(fields.observed.at);
    return Math.abs(at - ms) <= AROUND_MS && at >= from && at <= until;
  };
  return { day: midnight.toPlainDate().subtract({ days: 1 }).toString(), checks: checks.filter(within) };
}

/**
 * The nights through which a cooler was kept before it was given to a carrier or the laboratory.
 *
 * @param now for what is still kept; without it only nights that the records bound are told
 */
export function nightsKept(facts: CoolerFacts, now: string | null = null): readonly Night[] {
  return nightsUntil(facts, keptUntil(facts) ?? now);
}

/** The nights since a cooler was packed. */
export function nightsUntil(facts: CoolerFacts, until: string | null): readonly Night[] {
  const from = keptFrom(facts);
  if (from === null || until === null) return [];
  const [fromMs, untilMs] = [instantMs(from), instantMs(until)];
  const zone = facts.timeZone ?? 'UTC';
  let midnight = Temporal.Instant.fromEpochMilliseconds(fromMs).toZonedDateTimeISO(zone).startOfDay().add({ days: 1 });
  const nights: Night[] = [];
  while (midnight.epochMilliseconds < untilMs && nights.length < MOST_NIGHTS) {
    nights.push(nightOf(midnight, facts.checks, fromMs, untilMs));
    midnight = midnight.add({ days: 1 });
  }
  return nights;
}
