import { byKey, live } from './by-key.ts';
import type { Contact } from './contact.ts';
import type { EquipmentIndex } from './equipment-index.ts';
import type { EquipmentRecords, SignOutRecord } from './equipment-records.ts';
import { dayOf, type Moment, momentOf } from './moment.ts';

/** Whether the day of a unit, "2026-05-04", is over: until then its crew can still mend what is missing. */
export type IsDayClosed = (unit: string, day: string) => boolean;

/** When it was last at a well; what is read now and then ends anew with each reading, so that only its first counts. */
function lastOf({ from, until, isNowAndThen }: Contact): Moment {
  return isNowAndThen || until === null ? from : until;
}

function returnedAt(record: SignOutRecord): Moment | null {
  const { until, observed } = record.fields;
  return until ? momentOf(record, until, observed) : null;
}

function everyMoment(index: EquipmentIndex, unit: string, observed: readonly Moment[]): readonly Moment[] {
  const line = index.lines.get(unit);
  const signOuts = index.signOutsOfUnit.get(unit) ?? [];
  return [
    ...observed,
    ...(line?.contacts ?? []).map(({ from }) => from),
    ...(line?.decons ?? []).map(({ began }) => began),
    ...(line?.services ?? []).map(({ moment }) => moment),
    ...(index.blanksOfUnit.get(unit) ?? []).map(({ collected }) => collected),
    ...signOuts.map((record) => momentOf(record, record.fields.from, record.fields.observed)),
    ...signOuts.flatMap((record) => returnedAt(record) ?? []),
  ];
}

/** Signed back in on that day, after all that it was used for. */
function isBack(index: EquipmentIndex, unit: string, day: string): boolean {
  const contacts = (index.lines.get(unit)?.contacts ?? []).filter(({ from }) => dayOf(from) === day);
  if (contacts.some(({ visit }) => !index.visits.get(visit)?.left)) return false;
  const lastMs = Math.max(Number.NEGATIVE_INFINITY, ...contacts.map((contact) => lastOf(contact).ms));
  return (index.signOutsOfUnit.get(unit) ?? []).some((record) => {
    const back = returnedAt(record);
    return back !== null && dayOf(back) === day && back.ms >= lastMs;
  });
}

/**
 * By the records alone, so that what follows from them needs no clock: the crews left every well where the unit was used
 * that day and signed it back in after that, or something of the unit is recorded of a later day.
 */
export function closedDays(index: EquipmentIndex, records: Pick<EquipmentRecords, 'partChanges'>): IsDayClosed {
  const changes = byKey(live(records.partChanges), ({ fields }) => fields.unit);
  const latest = new Map<string, string>();
  const latestDay = (unit: string) => {
    const known = latest.get(unit);
    if (known !== undefined) return known;
    const observed = (changes.get(unit) ?? []).map((one) => momentOf(one, one.fields.observed.at, one.fields.observed));
    const day = everyMoment(index, unit, observed).map(dayOf).sort().at(-1) ?? '';
    latest.set(unit, day);
    return day;
  };
  return (unit, day) => latestDay(unit) > day || isBack(index, unit, day);
}
