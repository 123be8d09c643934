import type { ServiceRecord } from './equipment-records.ts';
import { dayOf } from './moment.ts';
import { type ServiceMoment, serviceMoments } from './service-moment.ts';

const CHECKS: readonly string[] = ['inspected', 'serviced', 'length-checked'];
const WHAT: Readonly<Record<string, string>> = { 'length-checked': 'its length check' };

/**
 * The check that a unit failed and that still stands: a later one that passed, or its being back in service, ends it. A
 * tape whose correction is known is read with it; what was taken out of service since is told by that.
 *
 * @param services earliest first
 */
export function standingFailure(services: readonly ServiceMoment[]): ServiceMoment | undefined {
  const last = services.findLast(
    ({ type, record }) => type === 'back-in-service' || (CHECKS.includes(type) && record.fields.result),
  );
  if (last?.record.fields.result !== 'fail' || last.record.fields.correctionFt) return undefined;
  const isOut = services.some(({ type, moment }) => type === 'out-of-service' && moment.ms >= last.moment.ms);
  return isOut ? undefined : last;
}

/** "P-1 failed its inspection on 2026-05-04": what it failed, and when. */
export function failureText(name: string, { type, moment }: ServiceMoment): string {
  return `${name} failed ${WHAT[type] ?? 'its inspection'} on ${dayOf(moment)}`;
}

/** Of the records of one unit, in any order; null where none stands. */
export function failureOf(name: string, services: readonly ServiceRecord[]): string | null {
  const failed = standingFailure(serviceMoments(services));
  return failed
    ? `${failureText(name, failed)}, and no check that it passed is recorded since. Take it out of service, or have it checked again.`
    : null;
}
