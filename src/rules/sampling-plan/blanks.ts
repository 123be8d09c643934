import type { FillClass } from '../../catalog/analytes/analyte-group.ts';
import type { BlankRecord, PlannedRecord } from '../samples/sample-records.ts';
import type { ExpectedCoolers } from './expected-coolers.ts';
import { isDroppedByPlan } from './plan-reasons.ts';
import type { PumpOfCrew } from './planning-facts.ts';
import { bottlesAt, dayAtSite, oneLaboratory, type PlanningWells } from './planning-wells.ts';
import type { PlannedType, ProposedSample, Wanted } from './proposed.ts';
import { sampleOfPerson, unwantedSample, wantedSample } from './reconcile-sample.ts';
import type { Bottle } from './wanted-bottles.ts';

/** A blank that is asked for: what it is for says its remark, by which it is found again. */
export interface WantedBlank {
  readonly remark: string;
  readonly suites: readonly string[];
  readonly crew: string | null;
  readonly laboratory: string | null;
  readonly bottles: readonly Bottle[];
  /** Whether one that was taken without a plan is what is asked for here. Missing where none is looked for. */
  readonly isDoneBy?: (blank: BlankRecord) => boolean;
}

const OF_BLANKS: readonly FillClass[] = ['volatiles', 'pfas'];

/** Suites of which a container holds one of these classes. */
export function suitesWith(
  on: PlanningWells,
  names: readonly string[],
  classes: readonly FillClass[],
): readonly string[] {
  return names.filter((name) =>
    bottlesAt(on, [name], null).some(({ fillClass }) => fillClass !== null && classes.includes(fillClass)),
  );
}

function only(bottles: readonly Bottle[], classes: readonly FillClass[]): readonly Bottle[] {
  return bottles.filter(({ fillClass }) => fillClass !== null && classes.includes(fillClass));
}

function blankOf(remark: string, suites: readonly string[], bottles: readonly Bottle[]): WantedBlank {
  return { remark, suites, crew: null, laboratory: oneLaboratory(bottles), bottles };
}

function isOn(on: PlanningWells, { fields }: BlankRecord, day: string): boolean {
  return dayAtSite(on, fields.collected) === day;
}

/** A pump that changes crews in the course of a day owes one blank all the same: whoever has it last takes it. */
function oneOfUnit(pumps: readonly PumpOfCrew[]): readonly PumpOfCrew[] {
  const last = new Map<string, PumpOfCrew>();
  const later = (a: PumpOfCrew, b: PumpOfCrew) =>
    Number(a.until === null) - Number(b.until === null) ||
    (a.until ?? '').localeCompare(b.until ?? '') ||
    a.from.localeCompare(b.from) ||
    a.crew.localeCompare(b.crew);
  for (const pump of pumps) {
    const before = last.get(pump.unit);
    if (!before || later(pump, before) > 0) last.set(pump.unit, pump);
  }
  return [...last.values()];
}

/** Once through each shared pump that crews of the event have, on each day; where no sign-out tells one, for each crew. */
export function equipmentBlanks(
  on: PlanningWells,
  suites: readonly string[],
  days: readonly string[],
): readonly WantedBlank[] {
  if (on.facts.samples.event.fields.plan.equipment?.rinsatePer !== 'unit-and-day' || suites.length === 0) return [];
  const crews = new Set(on.wells.flatMap(({ crew, outBecause }) => (crew !== null && outBecause === null ? crew : [])));
  const names = new Map(on.facts.samples.crews.map(({ id, fields }) => [id, fields.name]));
  const bottles = bottlesAt(on, suites, null);
  return days.flatMap((day) => {
    const pumps = on.facts.pumps.filter(
      ({ crew, from, until }) => crews.has(crew) && from <= day && (until === null || until >= day),
    );
    const withPump = new Set(pumps.map(({ crew }) => crew));
    const units = new Set(pumps.map(({ unit }) => unit));
    const isOther = (blank: BlankRecord) => isOn(on, blank, day) && !units.has(blank.fields.unit ?? '');
    return [
      ...oneOfUnit(pumps).map(({ unit, label, type, crew }) => ({
        ...blankOf(`Equipment blank through ${label} (${type}), ${day}`, suites, bottles),
        crew,
        isDoneBy: (blank: BlankRecord) => isOn(on, blank, day) && blank.fields.unit === unit,
      })),
      ...[...crews]
        .filter((crew) => !withPump.has(crew))
        .map((crew) => ({
          ...blankOf(`Equipment blank through the pump of ${names.get(crew) ?? crew}, ${day}`, suites, bottles),
          crew,
          isDoneBy: isOther,
        })),
    ];
  });
}

/** By the plan, else each day with volatiles, and one an event for PFAS. */
export function fieldBlanks(
  on: PlanningWells,
  suites: readonly string[],
  days: readonly string[],
): readonly WantedBlank[] {
  const per = on.plan?.fieldBlanksPer;
  const [volatile, pfas] = [suitesWith(on, suites, ['volatiles']), suitesWith(on, suites, ['pfas'])];
  const day = (names: readonly string[], classes: readonly FillClass[] | null) =>
    names.length === 0 ? [] : days.map((one) => blankFor(on, `Field blank, ${one}`, names, classes, one));
  const event = (names: readonly string[], classes: readonly FillClass[] | null, what: string) =>
    names.length === 0 ? [] : [blankFor(on, what, names, classes)];
  if (per === 'none') return [];
  const asked = suites.filter((name) => volatile.includes(name) || pfas.includes(name));
  const [all, classes] = asked.length > 0 ? [asked, OF_BLANKS] : [suites, null];
  if (per === 'day') return day(all, classes);
  if (per === 'event') return event(all, classes, 'Field blank of the event');
  return [...day(volatile, ['volatiles']), ...event(pfas, ['pfas'], 'Field blank for PFAS of the event')];
}

function blankFor(
  on: PlanningWells,
  remark: string,
  suites: readonly string[],
  classes: readonly FillClass[] | null,
  day: string | null = null,
): WantedBlank {
  const bottles = bottlesAt(on, suites, null);
  const isDoneBy = (blank: BlankRecord) =>
    (day === null || isOn(on, blank, day)) && blank.fields.suites.some((suite) => suites.includes(suite));
  return { ...blankOf(remark, suites, classes === null ? bottles : only(bottles, classes)), isDoneBy };
}

/** The suites that a trip blank goes along with: those of the plan, else those with volatiles. */
export function tripSuites(on: PlanningWells, suites: readonly string[]): readonly string[] {
  return on.plan?.tripBlankSuites ?? suitesWith(on, suites, ['volatiles']);
}

/** What a trip blank is for: of the suites named what is volatile, and PFAS where the plan names them. */
export function isOfTrip(bottle: Pick<Bottle, 'fillClass' | 'suite'>, suites: readonly string[]): boolean {
  const { fillClass, suite } = bottle;
  return suite !== null && suites.includes(suite) && fillClass !== null && OF_BLANKS.includes(fillClass);
}

function coolerName(on: PlanningWells, laboratory: string | null, place: number): string {
  const name = laboratory === null ? null : (on.book.laboratories.get(laboratory) ?? laboratory);
  return `cooler ${place}${name === null ? '' : ` to ${name}`}`;
}

/** One in each cooler with volatiles. */
export function tripBlanks(
  on: PlanningWells,
  suites: readonly string[],
  coolers: readonly ExpectedCoolers[],
): readonly WantedBlank[] {
  const names = tripSuites(on, suites);
  const all = bottlesAt(on, names, null).filter((bottle) => isOfTrip(bottle, names));
  return coolers.flatMap(({ laboratory, withTripBlank }) => {
    const bottles = all.filter((one) => one.laboratory === laboratory);
    const its = names.filter((name) => bottles.some(({ suite }) => suite === name));
    return Array.from({ length: bottles.length === 0 ? 0 : withTripBlank }, (_, at): WantedBlank => {
      const remark = `Trip blank in ${coolerName(on, laboratory, at + 1)}: filled by the laboratory, not opened`;
      return { ...blankOf(remark, its, bottles), laboratory };
    });
  });
}

/** Nobody analyses it: a bottle of water whose temperature is read on arrival. 250 mL: procedures of regions of US EPA, from memory. */
const OF_TEMPERATURE: Bottle = {
  group: 'temperature',
  alsoGroups: [],
  suite: null,
  type: 'bottle',
  materials: ['polyethylene'],
  colour: null,
  preservatives: [[]],
  volumeMl: 250,
  filtered: null,
  laboratory: null,
  fillClass: null,
};

export function temperatureBlanks(on: PlanningWells, coolers: readonly ExpectedCoolers[]): readonly WantedBlank[] {
  if (on.plan?.temperatureBlankPerCooler === false) return [];
  return coolers.flatMap(({ laboratory, coolers: count }) =>
    Array.from({ length: count }, (_, at): WantedBlank => {
      const remark = `Temperature blank in ${coolerName(on, laboratory, at + 1)}`;
      return { remark, suites: [], crew: null, laboratory, bottles: [{ ...OF_TEMPERATURE, laboratory }] };
    }),
  );
}

function becauseOf(type: PlannedType): string {
  return `fewer samples of the type ${type} are asked for than were planned, or one was taken without it`;
}

/**
 * Blanks of a type as they are to be: those that are for the same thing stay, others that are planned are given to what
 * lacks one, and only then is there a new one.
 */
export function blanksOfType(
  on: PlanningWells,
  type: PlannedType,
  wanted: readonly WantedBlank[],
): readonly ProposedSample[] {
  const records = on.facts.samples.plannedSamples.filter(({ fields }) => fields.type === type);
  const own = on.ids.ownBlanks(type, records.length + wanted.length);
  const [ours, others] = [records.filter(({ id }) => own.has(id)), records.filter(({ id }) => !own.has(id))];
  const isFree = ({ fields }: PlannedRecord) => fields.standing === 'planned' || isDroppedByPlan(fields.droppedBecause);
  const free = new Set(ours.filter(isFree).toSorted(plannedFirst));
  const byHand = others.filter(({ fields }) => fields.standing === 'planned').length;
  const given = new Map<WantedBlank, string>();
  const refused = new Set(ours.filter((one) => !isFree(one)).map(({ fields }) => fields.remark));
  const asked = wanted.filter(({ remark }) => !refused.has(remark));
  for (const one of asked)
    take(
      one,
      [...free].find(({ fields }) => fields.remark === one.remark),
    );
  const open = asked.filter((one) => !given.has(one)).slice(byHand);
  for (const one of open)
    take(
      one,
      [...free].find(({ id }) => !on.standing.taken.has(id)),
    );
  function take(one: WantedBlank, record: PlannedRecord | undefined): void {
    if (!record) return;
    given.set(one, record.id);
    free.delete(record);
  }
  let place = 0;
  for (const one of open.filter((its) => !given.has(its))) {
    do place += 1;
    while (on.standing.planned.has(on.ids.blank(type, place)));
    given.set(one, on.ids.blank(type, place));
  }
  const used = new Set(given.values());
  return [
    ...[...given].map(([one, id]) => wantedSample(asWanted(one, id, type), on)),
    ...ours.filter(({ id }) => !used.has(id)).map((record) => unwantedSample(record, becauseOf(type), on)),
    ...others.map((record) => sampleOfPerson(record, bottlesAt(on, record.fields.suites, null), on)),
  ];
}

function plannedFirst(a: PlannedRecord, b: PlannedRecord): number {
  const place = ({ fields }: PlannedRecord) => (fields.standing === 'planned' ? 0 : 1);
  return place(a) - place(b) || (a.id < b.id ? -1 : 1);
}

function asWanted(one: WantedBlank, id: string, type: PlannedType): Wanted {
  const { remark, suites, crew, laboratory, bottles } = one;
  return { id, type, well: null, of: null, crew, laboratory, suites, remark, bottles };
}
