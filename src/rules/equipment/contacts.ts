import type { HowUsed } from '../../protocol/kinds/unit-use.ts';
import { byId, byKey, live } from './by-key.ts';
import { type Contact, compareContacts } from './contact.ts';
import { enteredOrder } from './entered-order.ts';
import type { EquipmentRecords, UnitUseRecord } from './equipment-records.ts';
import { laterOf, type Moment, momentOf, momentOfEnd } from './moment.ts';
import type { PlacedVisit } from './placed-visit.ts';
import { setUpContacts } from './set-up-contacts.ts';

type Visits = ReadonlyMap<string, PlacedVisit>;

interface Touch {
  readonly unit: string;
  readonly visit: string;
  readonly moment: Moment;
}

export function compareEntered(a: Moment, b: Moment): number {
  return enteredOrder({ id: a.record, at: a.at }, { id: b.record, at: b.at });
}

/** A tape or a meter leaves one record each time it is read: it was there from the first to the last. */
function fromTouches(touches: readonly Touch[], how: HowUsed, visits: Visits): readonly Contact[] {
  const groups = byKey(touches, ({ unit, visit }) => `${unit} ${visit}`);
  return [...groups.values()].flatMap((group) => {
    const first = group.reduce((a, b) => (compareEntered(b.moment, a.moment) < 0 ? b : a));
    const last = group.reduce((a, b) => (compareEntered(b.moment, a.moment) > 0 ? b : a));
    const visit = visits.get(first.visit);
    if (!visit) return [];
    const { unit } = first;
    return [
      {
        unit,
        visit: visit.id,
        well: visit.well,
        how,
        from: first.moment,
        until: last.moment,
        ends: 'said' as const,
        isNowAndThen: true,
      },
    ];
  });
}

function tapeTouches(records: EquipmentRecords): readonly Touch[] {
  return live(records.tapeRecords).flatMap((record) => {
    const { tape, visit, observed } = record.fields;
    return tape ? [{ unit: tape, visit, moment: momentOf(record, observed.at, observed) }] : [];
  });
}

function meterTouches(records: EquipmentRecords): readonly Touch[] {
  const purges = byId(live(records.purges));
  return live(records.readings).flatMap((record) => {
    const { meter, purge, observed } = record.fields;
    const visit = purges.get(purge)?.fields.visit;
    return meter && visit ? [{ unit: meter, visit, moment: momentOf(record, observed.at, observed) }] : [];
  });
}

function fromUse(record: UnitUseRecord, visits: Visits): readonly Contact[] {
  const { unit, visit: at, how, from, until, observed } = record.fields;
  const visit = visits.get(at);
  if (!visit) return [];
  const start = momentOf(record, from, observed);
  const common = { unit, visit: visit.id, well: visit.well, how, from: start, isNowAndThen: false };
  if (until) return [{ ...common, until: momentOfEnd(record, until, observed), ends: 'said' }];
  return [{ ...common, until: visit.left, ends: visit.left ? 'with-the-visit' : 'open' }];
}

/** The end that is best known: one that somebody recorded before one that follows from the visit. */
function endOf(a: Contact, b: Contact): Pick<Contact, 'until' | 'ends'> {
  if (a.ends !== b.ends) {
    const best = [a, b].find(({ ends }) => ends === 'said') ?? [a, b].find(({ ends }) => ends === 'with-the-visit');
    return best ?? a;
  }
  return { ends: a.ends, until: a.until && b.until ? laterOf(a.until, b.until) : null };
}

function overlap(a: Contact, b: Contact): boolean {
  return a.until === null || b.from.ms <= a.until.ms;
}

/** Two records of one stay at one well are one contact; earliest first. */
function joined(contacts: readonly Contact[]): readonly Contact[] {
  const done: Contact[] = [];
  for (const next of contacts.toSorted(compareContacts)) {
    const before = done.at(-1);
    if (before && overlap(before, next)) {
      const { until, ends } = endOf(before, next);
      done[done.length - 1] = { ...before, until, ends, isNowAndThen: before.isNowAndThen && next.isNowAndThen };
    } else done.push(next);
  }
  return done;
}

/** No contact ends before it begins, whatever two clocks say. */
function forward(contact: Contact): Contact {
  const { from, until } = contact;
  return until && until.ms < from.ms ? { ...contact, until: from } : contact;
}

/**
 * Every stay of a unit at a well by the records of set-ups, tapes, meters and uses, unit by unit. What was voided, or
 * belongs to a voided visit, counts for nothing.
 *
 * @param visits those that stand
 */
export function contactsByUnit(records: EquipmentRecords, visits: Visits): ReadonlyMap<string, readonly Contact[]> {
  const setUps = byKey(live(records.setUps), ({ fields }) => fields.visit);
  const all = [
    ...[...setUps].flatMap(([id, its]) => {
      const visit = visits.get(id);
      return visit ? setUpContacts(its, visit) : [];
    }),
    ...fromTouches(tapeTouches(records), 'down-the-well', visits),
    ...fromTouches(meterTouches(records), 'on-the-line', visits),
    ...live(records.uses).flatMap((use) => fromUse(use, visits)),
  ].map(forward);
  const stays = byKey(all, ({ unit, visit, how }) => `${unit} ${visit} ${how}`);
  const contacts = [...stays.values()].flatMap(joined);
  return byKey(contacts.map(forward).sort(compareContacts), ({ unit }) => unit);
}
