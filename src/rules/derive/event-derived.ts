import { derivedId } from '../derived-id.ts';
import { type Numbered, SAMPLE_NUMBER_RULE, sampleNumberFlags } from '../flags/sample-number-twice.ts';
import type { Held, World } from '../held.ts';
import { kitFlags } from '../kit/kit-flags.ts';
import type { KitCheck } from '../kit/kit-records.ts';
import { KIT_RULES } from '../kit/kit-rules.ts';
import { readable } from '../readable.ts';
import { isCustodyFlag } from './custody-derived.ts';
import type { Derived } from './derived.ts';
import { flagDerived } from './flag-derived.ts';
import { isHandedInFlag } from './handed-in-derived.ts';
import { isLabelFlag, isSampleFlag } from './sample-derived.ts';
import { isSecondPurge } from './second-purge-derived.ts';

type Reviews = Pick<World, 'under'>;

const KIT_CODES: readonly unknown[] = KIT_RULES.map(({ code }) => code);

export function isKitFlag({ state: { kind, fields } }: Pick<Held, 'state'>): boolean {
  return kind === 'flag' && KIT_CODES.includes(fields.rule);
}

export function isNumberFlag({ state: { kind, fields } }: Pick<Held, 'state'>): boolean {
  return kind === 'flag' && fields.rule === SAMPLE_NUMBER_RULE.code;
}

/** Whether a stored flag follows from records of an event that lie in different visits, or not all of them in one. */
export function isOfEvent(held: Pick<Held, 'state'>): boolean {
  const ofSamples = isSampleFlag(held) || isLabelFlag(held) || isCustodyFlag(held);
  return ofSamples || isKitFlag(held) || isNumberFlag(held) || isHandedInFlag(held) || isSecondPurge(held);
}

export function numberFlagId(firm: string, event: string, number: string): string {
  return derivedId(firm, 'flag', SAMPLE_NUMBER_RULE.code, event, number);
}

/** @param checks of one event, those that were voided among them */
export function kitDerived(firm: string, checks: readonly Held[], world: Reviews): Derived[] {
  const byId = new Map(checks.map((held) => [held.state.id, held]));
  const standing = checks.filter(({ state }) => state.voided === null);
  // what was stored has the shape of its kind, once it is read as one
  const records = standing.map(({ state }) => readable(state) as unknown as KitCheck);
  return kitFlags(records).flatMap((flag) => {
    const subject = byId.get(flag.subject);
    return subject ? [flagDerived(firm, flag, { subject, visit: null }, world)] : [];
  });
}

/** @param numbered what stands of the event, all of what has these numbers */
export function numbersDerived(
  firm: string,
  event: Held,
  numbered: readonly Pick<Held, 'state'>[],
  world: Reviews,
): Derived[] {
  const records = numbered.map(({ state }) => readable(state) as unknown as Numbered);
  return sampleNumberFlags(event.state.id, records).map((flag) =>
    flagDerived(
      firm,
      flag,
      { subject: event, visit: null, id: numberFlagId(firm, event.state.id, flag.number) },
      world,
    ),
  );
}
