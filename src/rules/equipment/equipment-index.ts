import { byId, byKey, live } from './by-key.ts';
import type { Contact } from './contact.ts';
import { contactsByUnit } from './contacts.ts';
import type { JudgeDecon } from './decon-span.ts';
import type {
  BlankRecord,
  EquipmentRecords,
  OccurrenceRecord,
  PartChangeRecord,
  PartRecord,
  ResultRecord,
  SetUpRecord,
  SignOutRecord,
  UnitRecord,
  WellRecord,
} from './equipment-records.ts';
import { type MeterCheck, meterChecks } from './meters/meter-check.ts';
import { type MeterUse, meterUses } from './meters/meter-use.ts';
import { compareMoments, type Moment, momentOf } from './moment.ts';
import type { PartStay } from './part-stay.ts';
import { partStays } from './part-stays.ts';
import { type PlacedVisit, placedVisit } from './placed-visit.ts';
import { staysDuring } from './stays-during.ts';
import { type PlacedSample, placedSample, type TouchedSample, touchedSamples } from './touched-samples.ts';
import { type UnitLine, unitLine } from './unit-line.ts';

export interface PlacedBlank {
  readonly record: BlankRecord;
  readonly unit: string;
  readonly collected: Moment;
}

/** The records put in order once, so that each question about a unit, a part or a sample is a look-up. */
export interface EquipmentIndex {
  readonly units: ReadonlyMap<string, UnitRecord>;
  readonly wells: ReadonlyMap<string, WellRecord>;
  readonly parts: ReadonlyMap<string, PartRecord>;
  readonly visits: ReadonlyMap<string, PlacedVisit>;
  /** Of each unit that is known or named. */
  readonly lines: ReadonlyMap<string, UnitLine>;
  readonly staysOfUnit: ReadonlyMap<string, readonly PartStay[]>;
  readonly staysDuring: ReadonlyMap<Contact, readonly PartStay[]>;
  readonly staysOfPart: ReadonlyMap<string, readonly PartStay[]>;
  readonly changesOfPart: ReadonlyMap<string, readonly PartChangeRecord[]>;
  readonly contactsOfVisit: ReadonlyMap<string, readonly Contact[]>;
  readonly occurrencesOfVisit: ReadonlyMap<string, readonly OccurrenceRecord[]>;
  readonly setUpsOfVisit: ReadonlyMap<string, readonly SetUpRecord[]>;
  readonly samples: ReadonlyMap<string, PlacedSample>;
  readonly samplesOfVisit: ReadonlyMap<string, readonly PlacedSample[]>;
  /** Earliest first. */
  readonly samplesOfUnit: ReadonlyMap<string, readonly TouchedSample[]>;
  /** Equipment blanks through a unit, by their id. */
  readonly rinsates: ReadonlyMap<string, PlacedBlank>;
  /** Equipment blanks, earliest first. */
  readonly blanksOfUnit: ReadonlyMap<string, readonly PlacedBlank[]>;
  readonly resultsOfSample: ReadonlyMap<string, readonly ResultRecord[]>;
  readonly resultsOfBlank: ReadonlyMap<string, readonly ResultRecord[]>;
  readonly signOutsOfUnit: ReadonlyMap<string, readonly SignOutRecord[]>;
  /** Of each meter, in no order. */
  readonly checksOfUnit: ReadonlyMap<string, readonly MeterCheck[]>;
  /** Of each meter its visits, earliest first. */
  readonly usesOfMeter: ReadonlyMap<string, readonly MeterUse[]>;
}

type Contacts = ReadonlyMap<string, readonly Contact[]>;

function linesOf(records: EquipmentRecords, contacts: Contacts, judge: JudgeDecon): ReadonlyMap<string, UnitLine> {
  const units = byId(live(records.units));
  const decons = byKey(live(records.decons), ({ fields }) => fields.unit);
  const steps = byKey(live(records.deconSteps), ({ fields }) => fields.decon);
  const services = byKey(live(records.services), ({ fields }) => fields.unit);
  const changes = byKey(live(records.partChanges), ({ fields }) => fields.unit);
  const ids = new Set([units, contacts, decons, services].flatMap((one) => [...one.keys()]));
  const line = (id: string) =>
    unitLine(
      {
        id,
        unit: units.get(id),
        contacts: contacts.get(id) ?? [],
        decons: decons.get(id) ?? [],
        steps,
        services: services.get(id) ?? [],
        partChanges: changes.get(id) ?? [],
      },
      judge,
    );
  return new Map([...ids].toSorted().map((id) => [id, line(id)]));
}

function placedBlanks(records: EquipmentRecords): readonly PlacedBlank[] {
  const decons = byId(live(records.decons));
  return live(records.blanks)
    .filter(({ fields }) => fields.type === 'equipment')
    .flatMap((record) => {
      const { unit, decon, collected } = record.fields;
      const through = unit ?? (decon ? decons.get(decon)?.fields.unit : undefined);
      return through ? [{ record, unit: through, collected: momentOf(record, collected) }] : [];
    })
    .sort((a, b) => compareMoments(a.collected, b.collected));
}

function staysOf(records: EquipmentRecords, lines: ReadonlyMap<string, UnitLine>): readonly PartStay[] {
  return partStays({
    parts: byId(live(records.parts)),
    changes: live(records.partChanges),
    decons: byId(live(records.decons)),
    steps: live(records.deconSteps),
    contacts: new Map([...lines].map(([id, { wet }]) => [id, wet])),
  });
}

function touchedByUnit(
  lines: ReadonlyMap<string, UnitLine>,
  samplesOfVisit: ReadonlyMap<string, readonly PlacedSample[]>,
  contactsOfVisit: Contacts,
): ReadonlyMap<string, readonly TouchedSample[]> {
  const visit = {
    samplesOf: (id: string) => samplesOfVisit.get(id) ?? [],
    contactsOf: (id: string) => contactsOfVisit.get(id) ?? [],
  };
  return new Map([...lines].map(([id, line]) => [id, touchedSamples(line.contacts, visit)]));
}

/** @param judge says of each decon whether the unit is clean by it */
export function equipmentIndex(records: EquipmentRecords, judge: JudgeDecon): EquipmentIndex {
  const visits = new Map(live(records.visits).map((visit) => [visit.id, placedVisit(visit)]));
  const lines = linesOf(records, contactsByUnit(records, visits), judge);
  const stays = staysOf(records, lines);
  const staysOfUnit = byKey(stays, ({ unit }) => unit);
  const contactsOfVisit = byKey(
    [...lines.values()].flatMap(({ contacts }) => contacts),
    ({ visit }) => visit,
  );
  const samples = live(records.samples)
    .filter(({ fields }) => visits.has(fields.visit))
    .map(placedSample)
    .sort((a, b) => compareMoments(a.collected, b.collected));
  const samplesOfVisit = byKey(samples, ({ record }) => record.fields.visit);
  const results = live(records.results);
  const purges = byId(live(records.purges));
  const blanks = placedBlanks(records);
  return {
    units: byId(live(records.units)),
    wells: byId(live(records.wells)),
    parts: byId(live(records.parts)),
    visits,
    lines,
    staysOfUnit,
    staysDuring: new Map([...lines].flatMap(([id, { wet }]) => [...staysDuring(wet, staysOfUnit.get(id) ?? [])])),
    staysOfPart: byKey(stays, ({ part }) => part),
    changesOfPart: byKey(live(records.partChanges), ({ fields }) => fields.part),
    contactsOfVisit,
    occurrencesOfVisit: byKey(live(records.occurrences), ({ fields }) => purges.get(fields.purge)?.fields.visit),
    setUpsOfVisit: byKey(live(records.setUps), ({ fields }) => fields.visit),
    samples: new Map(samples.map((sample) => [sample.record.id, sample])),
    samplesOfVisit,
    samplesOfUnit: touchedByUnit(lines, samplesOfVisit, contactsOfVisit),
    rinsates: new Map(blanks.map((blank) => [blank.record.id, blank])),
    blanksOfUnit: byKey(blanks, ({ unit }) => unit),
    resultsOfSample: byKey(results, ({ fields }) => fields.sample),
    resultsOfBlank: byKey(results, ({ fields }) => fields.blank),
    signOutsOfUnit: byKey(live(records.signOuts), ({ fields }) => fields.unit),
    checksOfUnit: meterChecks(records.checks),
    usesOfMeter: meterUses(records, visits),
  };
}

export function wellName(index: EquipmentIndex, id: string): string {
  return index.wells.get(id)?.fields.name ?? id;
}
