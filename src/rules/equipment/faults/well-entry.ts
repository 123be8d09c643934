import type { Contact } from '../contact.ts';
import type { EquipmentIndex } from '../equipment-index.ts';
import { doubtBetween, type Moment } from '../moment.ts';
import { isDry, isOwnWell } from '../unit-kind.ts';
import { isCleanFor, type StateSpan } from '../unit-life.ts';
import type { UnitLine } from '../unit-line.ts';

/** Why a unit should not have gone into a well. One cause each, the one that tells most. */
export type EntryCause =
  | 'in-two-wells'
  | 'out-of-service'
  | 'decon-incomplete'
  | 'not-known-clean'
  | 'used-elsewhere'
  | 'disposable-again';

/** A unit that goes into a well, as it was found then. */
export interface WellEntry {
  readonly line: UnitLine;
  readonly contact: Contact;
  readonly found: StateSpan;
  /** Its last stay before, at whatever well. */
  readonly before: Contact | null;
  /** Of `in-two-wells`, the other stay. */
  readonly overlapped: Contact | null;
  /** Null where nothing is wrong with it. */
  readonly cause: EntryCause | null;
  /** Whether the clocks leave it open. */
  readonly isPossible: boolean;
}

/** Two stays at once are told of what hangs in a well, not of a tape that goes to and fro. */
function overlappedBy(contact: Contact, open: readonly Contact[]): Contact | null {
  if (contact.isNowAndThen) return null;
  return open.findLast((one) => !one.isNowAndThen && one.well !== contact.well) ?? null;
}

function overlapMs(a: Contact, b: Contact): number {
  const untils = [a.until, b.until].map((one) => one?.ms ?? Number.POSITIVE_INFINITY);
  return Math.min(...untils) - Math.max(a.from.ms, b.from.ms);
}

function isInDoubt(a: Moment, b: Moment): boolean {
  const doubtMs = doubtBetween(a, b);
  return doubtMs > 0 && Math.abs(a.ms - b.ms) <= doubtMs;
}

/** A complete decon that the clocks let lie on either side of this entry, or of the stay before, may have come between. */
function mayBeClean(line: UnitLine, contact: Contact, before: Contact | null): boolean {
  return line.decons.some(
    ({ standing, began, until }) =>
      standing.isClean &&
      (isInDoubt(until, contact.from) || (before !== null && isInDoubt(began, before.until ?? before.from))),
  );
}

/**
 * What is read now and then counts as being where it is read from the first reading to the last, since no more is known of
 * it: a tape that is wiped between two wells and goes back is clean for the second though its first stay goes on.
 */
function isWipedBetween({ decons }: UnitLine, found: StateSpan, before: Contact | null, { from }: Contact): boolean {
  if (found.state !== 'in-a-well' || found.cause.by !== 'contact' || !found.cause.contact.isNowAndThen) return false;
  const since = before?.from;
  if (since === undefined) return false;
  return decons.some(({ standing, began, until }) => standing.isClean && began.ms >= since.ms && until.ms <= from.ms);
}

function causeOf(line: UnitLine, contact: Contact, found: StateSpan, before: Contact | null): EntryCause | null {
  if (found.state === 'out-of-service') return 'out-of-service';
  if (isDry(line.unit) || isCleanFor(found, contact, line.unit)) return null;
  if (isWipedBetween(line, found, before, contact)) return null;
  // back into the well that it came from, it carries nothing over
  if (before !== null && before.well === contact.well && found.state !== 'unknown') return null;
  if (found.state === 'being-cleaned') return 'decon-incomplete';
  if (found.state === 'unknown') return contact.how === 'down-the-well' ? 'not-known-clean' : null;
  if (line.unit?.fields.use === 'disposable') return 'disposable-again';
  return before === null && !isOwnWell(contact, line.unit) ? 'not-known-clean' : 'used-elsewhere';
}

function entryOf(line: UnitLine, contact: Contact, open: readonly Contact[], before: Contact | null): WellEntry | null {
  const found = line.life.foundIn.get(contact);
  if (!found) return null;
  const overlapped = overlappedBy(contact, open);
  const common = { line, contact, found, before, overlapped };
  if (overlapped) {
    const doubtMs = overlapped.until ? doubtBetween(overlapped.until, contact.from) : 0;
    return { ...common, cause: 'in-two-wells', isPossible: overlapMs(overlapped, contact) <= doubtMs };
  }
  const cause = causeOf(line, contact, found, before);
  const isSure = cause === null || cause === 'out-of-service' || !mayBeClean(line, contact, before);
  return { ...common, cause, isPossible: !isSure };
}

function entriesOfLine(line: UnitLine): readonly WellEntry[] {
  let open: readonly Contact[] = [];
  let before: Contact | null = null;
  const entries: WellEntry[] = [];
  for (const contact of line.wet) {
    open = open.filter(({ until }) => until !== null && until.ms > contact.from.ms);
    const entry = entryOf(line, contact, open, before);
    if (entry) entries.push(entry);
    open = [...open, contact];
    before = contact;
  }
  return entries;
}

/** Every time that a unit went into a well or onto a line, unit by unit. */
export function wellEntries(index: EquipmentIndex): readonly WellEntry[] {
  return [...index.lines.values()].flatMap(entriesOfLine);
}
