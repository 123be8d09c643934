import { instantMs } from '../../science/instant-ms.ts';
import type { DeconRecord, DeconStepRecord, PartChangeRecord } from './equipment-records.ts';
import { type Moment, momentOf, momentOfEnd } from './moment.ts';

/** As entered, unless the clock that it came from was off: then as that clock should have shown it. */
export function correctedInstant({ at, addMs }: Pick<Moment, 'at' | 'addMs'>): string {
  if (addMs === 0) return at;
  const local = Date.parse(`${at.slice(0, 19)}Z`) + addMs;
  return `${new Date(local).toISOString().slice(0, 19)}${at.slice(19)}`;
}

function flat<Fields extends object>({ id, fields }: { readonly id: string; readonly fields: Fields }) {
  return { id, ...fields };
}

type Observing = DeconStepRecord | PartChangeRecord;

function observedByClock<Item extends Observing>(record: Item): Item['fields']['observed'] {
  const { observed } = record.fields;
  return { ...observed, at: correctedInstant(momentOf(record, observed.at, observed)) };
}

const MINUTE_MS = 60_000;

/**
 * Its end, which mostly comes with a change of the record, and does not say by which device. Where the clock of its
 * beginning was off, the end is by that clock or by a right one, whichever makes the shorter cleaning.
 */
export function endOfDecon(record: DeconRecord, began: Moment): Moment | null {
  const { ended, observed } = record.fields;
  if (!ended) return null;
  const end = momentOfEnd(record, ended, observed);
  if (record.rev === 1 || began.addMs === 0 || end.addMs !== 0) return end;
  const { addMs, doubtMs } = began;
  const ms = Math.floor((instantMs(ended) + addMs) / MINUTE_MS) * MINUTE_MS;
  const later = [end, { ...end, ms, addMs, doubtMs }].filter((one) => one.ms >= began.ms);
  return later.toSorted((a, b) => a.ms - b.ms)[0] ?? end;
}

/** What belongs to a cleaning, as its protocol judges it: with times that may be compared though two devices wrote them. */
export function deconByClock(record: DeconRecord) {
  const began = momentOf(record, record.fields.began, record.fields.observed);
  const ended = endOfDecon(record, began);
  return { ...flat(record), began: correctedInstant(began), ended: ended && correctedInstant(ended) };
}

export function stepByClock(record: DeconStepRecord) {
  return { ...flat(record), observed: observedByClock(record), reason: record.fields.deviation };
}

export function changeByClock(record: PartChangeRecord) {
  return { ...flat(record), observed: observedByClock(record) };
}
