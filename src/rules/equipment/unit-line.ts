import { firstWhere } from './by-key.ts';
import { clipped } from './clip-contacts.ts';
import type { Contact } from './contact.ts';
import { correctedInstant } from './decon-by-clock.ts';
import { type DeconSpan, deconSpan, type JudgeDecon } from './decon-span.ts';
import type { DeconRecord, DeconStepRecord, PartChangeRecord, ServiceRecord, UnitRecord } from './equipment-records.ts';
import { compareMoments, isNextOfOwn, type Moment, momentOf } from './moment.ts';
import { type ServiceMoment, serviceMoments } from './service-moment.ts';
import { type UnitLife, unitLife } from './unit-life.ts';
import { earliestFirst } from './within-a-minute.ts';

/** What happened to one unit, each list earliest first. */
export interface UnitLine {
  readonly id: string;
  /** Missing where records name a unit that is not here. */
  readonly unit: UnitRecord | undefined;
  readonly contacts: readonly Contact[];
  /** Those in which it may touch water: all but beside the well. */
  readonly wet: readonly Contact[];
  readonly decons: readonly DeconSpan[];
  readonly services: readonly ServiceMoment[];
  readonly life: UnitLife;
}

export interface LineRecords {
  readonly id: string;
  readonly unit: UnitRecord | undefined;
  /** Sorted. */
  readonly contacts: readonly Contact[];
  readonly decons: readonly DeconRecord[];
  readonly steps: ReadonlyMap<string, readonly DeconStepRecord[]>;
  readonly services: readonly ServiceRecord[];
  readonly partChanges: readonly PartChangeRecord[];
}

function takenApart({ decons, partChanges }: LineRecords) {
  return [
    ...decons.map((record) => momentOf(record, record.fields.began, record.fields.observed)),
    ...partChanges
      .filter(({ fields }) => fields.action !== 'installed')
      .map((record) => momentOf(record, record.fields.observed.at, record.fields.observed)),
  ].sort(compareMoments);
}

/** What falls into its minute came before, unless the same device recorded it after. */
function usesAround(wet: readonly Contact[], began: Moment) {
  const after = firstWhere(wet, ({ from }) => from.ms > began.ms);
  const first = firstWhere(wet, ({ from }) => from.ms >= began.ms);
  const inMinute = wet.slice(first, after);
  const next = inMinute.find(({ from }) => isNextOfOwn(from, began)) ?? wet[after];
  const before = inMinute.findLast(({ from }) => !isNextOfOwn(from, began)) ?? wet[first - 1];
  return { nextUse: next && correctedInstant(next.from), visitBefore: before?.visit };
}

const AWAY: readonly string[] = ['arrived', 'serviced', 'returned'];

export function unitLine(records: LineRecords, judge: JudgeDecon): UnitLine {
  const { id, unit, steps } = records;
  const services = serviceMoments(records.services);
  const away = services.filter(({ type }) => AWAY.includes(type)).map(({ moment }) => moment);
  const contacts = earliestFirst(
    clipped(records.contacts, { takenApart: takenApart(records), away }),
    ({ from }) => from,
  );
  const wet = contacts.filter(({ how }) => how !== 'beside-the-well');
  const spans = records.decons.map((decon) =>
    deconSpan({
      decon,
      steps: steps.get(decon.id) ?? [],
      unit,
      judge,
      usesAround: (began) => usesAround(wet, began),
    }),
  );
  const decons = earliestFirst(spans, ({ began }) => began);
  return { id, unit, contacts, wet, decons, services, life: unitLife({ unit, contacts, decons, services }) };
}
