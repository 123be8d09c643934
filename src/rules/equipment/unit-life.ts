import type { UnitStateName } from '../../protocol/kinds/unit-state.ts';
import type { Contact } from './contact.ts';
import type { DeconSpan } from './decon-span.ts';
import type { UnitRecord } from './equipment-records.ts';
import { type LifeStep, lifeSteps } from './life-steps.ts';
import type { Moment } from './moment.ts';
import type { ServiceMoment } from './service-moment.ts';
import { isDry, isOwnWell } from './unit-kind.ts';

/** What put a unit into its state. `own`: what it is, by its own record. */
export type StateCause =
  | { readonly by: 'own' }
  | { readonly by: 'service'; readonly service: ServiceMoment }
  | { readonly by: 'contact'; readonly contact: Contact }
  | { readonly by: 'decon'; readonly decon: DeconSpan };

/** A state that a unit was in from one moment until the next span begins. */
export interface StateSpan {
  readonly state: UnitStateName;
  /** Null for what it is from the first, before any record. */
  readonly since: Moment | null;
  readonly cause: StateCause;
  /** Where it is, also while out of service: a pump may be stuck in its well. */
  readonly well: string | null;
}

export interface LifeSpan extends StateSpan {
  /** When it came into this state, of this well and by this cause; the first has been from ever. */
  readonly fromMs: number;
}

export interface UnitLife {
  /** Earliest first; the last is the present state. */
  readonly spans: readonly LifeSpan[];
  /** In which state it was when it went into each well. */
  readonly foundIn: ReadonlyMap<Contact, StateSpan>;
}

export interface LifeRecords {
  readonly unit: UnitRecord | undefined;
  readonly contacts: readonly Contact[];
  readonly decons: readonly DeconSpan[];
  readonly services: readonly ServiceMoment[];
}

interface Base {
  readonly state: UnitStateName;
  readonly since: Moment | null;
  readonly cause: StateCause;
}

/** Gear that stays dry or goes nowhere else is clean from the first; of the rest nobody knows until it is cleaned. */
function firstBase(unit: UnitRecord | undefined): Base {
  const isClean =
    isDry(unit) ||
    unit?.fields.use === 'disposable' ||
    Boolean(unit?.fields.use === 'dedicated' && unit.fields.dedicatedTo);
  return { state: isClean ? 'clean' : 'unknown', since: null, cause: { by: 'own' } };
}

/** Whether it brings nothing into this well. Gear of one well is clean for that well and for no other. */
export function isCleanFor(found: StateSpan, contact: Contact, unit: UnitRecord | undefined): boolean {
  if (found.state !== 'clean') return false;
  return found.cause.by !== 'own' || unit?.fields.use !== 'dedicated' || isOwnWell(contact, unit);
}

/** A unit as its records are gone through from the earliest to the latest. */
class Passing {
  readonly #unit: UnitRecord | undefined;
  #base: Base;
  #out: ServiceMoment | null = null;
  /** At wells now, in the order in which it went there. */
  #at: Contact[] = [];
  /** Begun and not over; going into a well breaks them off. */
  #cleaning: DeconSpan[] = [];
  /** Begun, not over and not broken off: each of them makes it clean when it ends, also after another did. */
  #running: DeconSpan[] = [];

  constructor(unit: UnitRecord | undefined) {
    this.#unit = unit;
    this.#base = firstBase(unit);
  }

  span(): StateSpan {
    const contact = this.#at.at(-1);
    const well = contact?.well ?? null;
    if (this.#out)
      return { state: 'out-of-service', since: this.#out.moment, cause: { by: 'service', service: this.#out }, well };
    if (contact) return { state: 'in-a-well', since: contact.from, cause: { by: 'contact', contact }, well };
    const decon = this.#cleaning.at(-1);
    if (decon) return { state: 'being-cleaned', since: decon.began, cause: { by: 'decon', decon }, well };
    return { ...this.#base, well };
  }

  take(step: LifeStep): void {
    if (step.what === 'into-well') this.#into(step.contact);
    else if (step.what === 'out-of-well') this.#outOf(step.contact, step.moment);
    else if (step.what === 'decon-begins') this.#begin(step.decon);
    else if (step.what === 'decon-ends') this.#cleaned(step.decon);
    else if (step.what === 'service') this.#service(step.service);
  }

  #into(contact: Contact): void {
    this.#at.push(contact);
    if (isDry(this.#unit)) return;
    const wasClean = this.#cleaning.length === 0 && this.#base.state === 'clean';
    this.#breakOff();
    if (wasClean && isOwnWell(contact, this.#unit)) this.#base = firstBase(this.#unit);
    else this.#base = { state: 'used', since: contact.from, cause: { by: 'contact', contact } };
  }

  #outOf(contact: Contact, moment: Moment): void {
    this.#at = this.#at.filter((one) => one !== contact);
    // what is read now and then is used from its first reading on, however many follow
    if (this.#base.cause.by === 'contact' && this.#base.cause.contact === contact && !contact.isNowAndThen)
      this.#base = { ...this.#base, since: moment };
  }

  #begin(decon: DeconSpan): void {
    this.#cleaning.push(decon);
    this.#running.push(decon);
  }

  #breakOff(): void {
    this.#cleaning = [];
    this.#running = [];
  }

  /** One complete record makes it clean, also where another of the same cleaning was left half written. */
  #cleaned(decon: DeconSpan): void {
    const isRunning = this.#running.includes(decon);
    this.#running = this.#running.filter((one) => one !== decon);
    if (this.#at.length > 0) this.#cleaning = this.#cleaning.filter((one) => one !== decon);
    if (!decon.standing.isClean || !isRunning || this.#at.length > 0) return;
    this.#cleaning = [];
    this.#base = { state: 'clean', since: decon.until, cause: { by: 'decon', decon } };
  }

  #service(service: ServiceMoment): void {
    if (service.type === 'out-of-service') this.#out = service;
    if (service.type === 'back-in-service') this.#out = null;
    if (service.type !== 'arrived' && service.type !== 'returned') return;
    this.#out = null;
    this.#breakOff();
    if (!isDry(this.#unit)) this.#base = { state: 'unknown', since: service.moment, cause: { by: 'service', service } };
  }
}

function isSame(a: StateSpan, b: StateSpan): boolean {
  return a.state === b.state && a.since === b.since && a.well === b.well;
}

/**
 * The states that a unit went through, by its records in any order of arrival. It is clean only by a complete decon, or
 * because it is dedicated to its well, disposable and new, or stays dry.
 *
 * Sources: cleaned before the first well and after every well, US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 8
 * of 13; what is not known to be clean counts as not clean, US Army depot SOP-003, rev. 1, 3.1, county file, doc 798934,
 * page 68.
 */
export function unitLife(records: LifeRecords): UnitLife {
  const passing = new Passing(records.unit);
  const spans: LifeSpan[] = [{ ...passing.span(), fromMs: Number.NEGATIVE_INFINITY }];
  const foundIn = new Map<Contact, StateSpan>();
  for (const step of lifeSteps(records)) {
    if (step.what === 'into-well') foundIn.set(step.contact, passing.span());
    passing.take(step);
    // what lasted for less than a minute is no state
    if (spans.at(-1)?.fromMs === step.moment.ms) spans.pop();
    const last = spans.at(-1);
    const span = passing.span();
    if (!last || !isSame(last, span)) spans.push({ ...span, fromMs: step.moment.ms });
  }
  return { spans, foundIn };
}
