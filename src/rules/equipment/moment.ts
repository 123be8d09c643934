import { instantMs } from '../../science/instant-ms.ts';
import { clockCorrection } from '../clock-correction.ts';
import type { Recorded, Seen } from './equipment-records.ts';

const MINUTE_MS = 60_000;
/** A time that is further from the device's wall clock than this was typed, not taken from the clock. */
const TAKEN_FROM_CLOCK_MS = 15 * MINUTE_MS;

/** Where a time stands among those that one device took from its clock within one boot. */
export interface OwnPlace {
  readonly client: string;
  readonly boot: string;
  /** In which order it was captured; null of an end that was given later than the beginning: that bears no stamp. */
  readonly sequence: number | null;
  /** When it was captured by the clock of the device; of such an end, the time that was given for it. */
  readonly wallMs: number;
  /** A record that changed names the client of the change, which need not be the one that took the time. */
  readonly hasChanged: boolean;
}

/** When something happened, by which record, and how sure its clock makes it. */
export interface Moment {
  /** As entered, with offset. */
  readonly at: string;
  /** In order with those of other devices: corrected by the clock, to the minute. */
  readonly ms: number;
  /** What was added to it for that. */
  readonly addMs: number;
  readonly doubtMs: number;
  readonly client: string | null;
  readonly record: string;
  readonly kind: string;
  /** Null for what was read from a watch or a sheet: then the minute is all that is known. */
  readonly own: OwnPlace | null;
}

/** Whether a time was taken from the clock of the device when it wrote. */
export function isTakenFromClock({ wall }: { readonly wall: string }, ms: number): boolean {
  return Math.abs(instantMs(wall) - ms) <= TAKEN_FROM_CLOCK_MS;
}

type Stamped = Pick<Recorded<unknown>, 'id' | 'kind' | 'rev' | 'client' | 'clock'>;

/**
 * The clock of a record is that of its capture, also after an amendment, which stamps none. So it says nothing of a time
 * that an amendment may have given, unless that lies where the clock stood at the capture; nor does it say anything of
 * what was read from a watch or a sheet.
 */
function isFromClock({ rev, clock }: Stamped, ms: number, seen: Seen | undefined): boolean {
  if (clock === null) return false;
  if (rev === 1 && seen?.captured === 'at-the-well') return true;
  return isTakenFromClock(clock, ms) && seen?.captured !== 'from-paper';
}

/** The stamp of a record is that of its capture, whoever changed it later. */
function ownPlace({ rev, client, clock }: Stamped, ms: number, isEnd: boolean, seen?: Seen): OwnPlace | null {
  if (client === null || clock === null || seen?.captured === 'from-paper') return null;
  const own = { client, boot: clock.boot, hasChanged: rev > 1 };
  if (isEnd && rev > 1) return { ...own, sequence: null, wallMs: ms };
  const wallMs = instantMs(clock.wall);
  return Math.abs(wallMs - ms) < MINUTE_MS ? { ...own, sequence: clock.sequence, wallMs } : null;
}

function placed(record: Stamped, at: string, isEnd: boolean, seen?: Seen): Moment {
  const ms = instantMs(at);
  const { addMs, uncertaintyMs } = clockCorrection(isFromClock(record, ms, seen) ? record.clock : null);
  const { id, kind, client } = record;
  return {
    at,
    ms: Math.floor((ms + addMs) / MINUTE_MS) * MINUTE_MS,
    addMs,
    doubtMs: uncertaintyMs,
    client,
    record: id,
    kind,
    own: ownPlace(record, ms, isEnd, seen),
  };
}

/**
 * A time of a record, placed among those of other devices. Sheets are filled in to the minute, so that seconds decide
 * nothing between two devices; within one minute of one device its own order does.
 *
 * @param seen how an observation was captured; facts such as visits have none
 */
export function momentOf(record: Stamped, at: string, seen?: Seen): Moment {
  return placed(record, at, false, seen);
}

/** Of a time by which a record was ended, which mostly comes with a change of it. */
export function momentOfEnd(record: Stamped, at: string, seen?: Seen): Moment {
  return placed(record, at, true, seen);
}

/** Earliest first; equal times by record, so that the order of arrival makes no difference. */
export function compareMoments(a: Moment, b: Moment): number {
  if (a.ms !== b.ms) return a.ms - b.ms;
  return a.record < b.record ? -1 : a.record > b.record ? 1 : 0;
}

/** Whether one device captured the one after the other, in one minute. */
export function isNextOfOwn(a: Moment, before: Moment): boolean {
  const [one, other] = [a.own, before.own];
  if (a.ms !== before.ms || !one || !other || one.sequence === null || other.sequence === null) return false;
  const isOneDevice = one.boot === other.boot && (one.client === other.client || one.hasChanged || other.hasChanged);
  return isOneDevice && one.sequence > other.sequence;
}

export function laterOf(a: Moment, b: Moment): Moment {
  return compareMoments(a, b) < 0 ? b : a;
}

/** By how much the order of two times may be off. Times of one device share its clock and are in doubt by nothing. */
export function doubtBetween(a: Moment, b: Moment): number {
  return a.client !== null && a.client === b.client ? 0 : a.doubtMs + b.doubtMs;
}

export function isSurelyBefore(a: Moment, b: Moment): boolean {
  return a.ms + doubtBetween(a, b) < b.ms;
}

/** "2026-05-04 10:40", as it was entered. */
export function momentText({ at }: Pick<Moment, 'at'>): string {
  return `${at.slice(0, 10)} ${at.slice(11, 16)}`;
}

/** The calendar day where it happened. */
export function dayOf({ at }: Pick<Moment, 'at'>): string {
  return at.slice(0, 10);
}
