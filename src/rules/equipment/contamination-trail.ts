import type { UnitStateName } from '../../protocol/kinds/unit-state.ts';
import type { HowUsed } from '../../protocol/kinds/unit-use.ts';
import { firstWhere } from './by-key.ts';
import { type CarryOver, carriedOver } from './carried-over.ts';
import { type Carrier, carriersDuring, contactsOfCarrier } from './carrier.ts';
import type { Contact } from './contact.ts';
import type { EquipmentIndex } from './equipment-index.ts';
import { compareMoments } from './moment.ts';
import { type OpenClasses, openClassesAt } from './open-classes.ts';
import { wentInClean } from './went-in-clean.ts';

export interface WellTouched {
  readonly visit: string;
  readonly well: string;
  readonly unit: string;
  readonly how: HowUsed;
  /** As entered. */
  readonly from: string;
  readonly until: string | null;
}

/** Everything that a unit touched, each list earliest first. */
export interface UnitTrail {
  readonly unit: string;
  readonly wells: readonly WellTouched[];
  readonly decons: readonly { readonly decon: string; readonly began: string; readonly isClean: boolean }[];
  /** Soft parts, with where else each of them was. */
  readonly parts: readonly { readonly part: string; readonly from: string; readonly otherUnits: readonly string[] }[];
  readonly rinsates: readonly { readonly blank: string; readonly collected: string }[];
  readonly samples: readonly { readonly sample: string; readonly collected: string; readonly well: string }[];
  /** Where it came into a well with the water of another. */
  readonly carriedOver: readonly CarryOver[];
}

function touched({ visit, well, unit, how, from, until }: Contact): WellTouched {
  return { visit, well, unit, how, from: from.at, until: until?.at ?? null };
}

/** From a unit to every well, decon, soft part, rinsate and sample that it touched. */
export function trailOfUnit(index: EquipmentIndex, unit: string): UnitTrail | undefined {
  const line = index.lines.get(unit);
  if (!line) return undefined;
  const others = (part: string) =>
    new Set((index.staysOfPart.get(part) ?? []).map((stay) => stay.unit).filter((one) => one !== unit));
  return {
    unit,
    wells: contactsOfCarrier(index, { kind: 'unit', id: unit }).map(touched),
    decons: line.decons.map(({ record, began, standing }) => ({
      decon: record.id,
      began: began.at,
      isClean: standing.isClean,
    })),
    parts: (index.staysOfUnit.get(unit) ?? []).map(({ part, from }) => ({
      part,
      from: from.at,
      otherUnits: [...others(part)].toSorted(),
    })),
    rinsates: (index.blanksOfUnit.get(unit) ?? []).map(({ record, collected }) => ({
      blank: record.id,
      collected: collected.at,
    })),
    samples: (index.samplesOfUnit.get(unit) ?? []).map(({ record, collected, contact }) => ({
      sample: record.id,
      collected: collected.at,
      well: contact.well,
    })),
    carriedOver: carriedOver(index, { kind: 'unit', id: unit }),
  };
}

/** What a unit or a soft part behind a sample had met before. */
export interface CarrierBehind {
  readonly carrier: Carrier;
  /** The unit that was at the well. */
  readonly unit: string;
  readonly how: HowUsed;
  readonly from: string;
  readonly until: string | null;
  /** Of the unit, as it went in. */
  readonly foundIn: UnitStateName;
  /** The last stay elsewhere before it; null where none is recorded. */
  readonly wellBefore: WellTouched | null;
  /** Of the unit since that stay, whether or not they make it clean. */
  readonly decons: readonly string[];
  /** Whether the unit went in clean, also of what its last well holds. */
  readonly isClean: boolean;
  /** What it was cleaned of not, though it counts as clean. */
  readonly open: OpenClasses | null;
  /** Not cleaned, and in no other well since it was last clean. */
  readonly isBackInItsWell: boolean;
  readonly rinsateBefore: string | null;
  readonly rinsateAfter: string | null;
}

export interface SampleTrail {
  readonly sample: string;
  readonly number: string;
  readonly visit: string;
  readonly well: string;
  readonly suites: readonly string[];
  readonly behind: readonly CarrierBehind[];
}

/** Used in this well alone since it went in clean. */
function isBackInItsWell(index: EquipmentIndex, contact: Contact): boolean {
  const wet = index.lines.get(contact.unit)?.wet ?? [];
  const until = wet.slice(0, wet.indexOf(contact) + 1);
  const clean = until.findLastIndex((one) => wentInClean(index, one));
  return clean >= 0 && until.slice(clean).every(({ well }) => well === contact.well);
}

function carrierBehind(index: EquipmentIndex, carrier: Carrier, contact: Contact): CarrierBehind {
  const line = index.lines.get(contact.unit);
  const found = line?.life.foundIn.get(contact);
  const before = contactsOfCarrier(index, carrier).findLast(
    (one) => one.visit !== contact.visit && compareMoments(one.from, contact.from) < 0,
  );
  const decons = line?.decons ?? [];
  const sinceMs = before?.from.ms ?? Number.NEGATIVE_INFINITY;
  const rinsates = index.blanksOfUnit.get(contact.unit) ?? [];
  const next = firstWhere(rinsates, ({ collected }) => collected.ms > contact.from.ms);
  const isClean = wentInClean(index, contact);
  const open = line && isClean ? openClassesAt(index, line, contact) : null;
  return {
    carrier,
    unit: contact.unit,
    how: contact.how,
    from: contact.from.at,
    until: contact.until?.at ?? null,
    foundIn: found?.state ?? 'unknown',
    wellBefore: before ? touched(before) : null,
    decons: decons
      .filter(({ began }) => began.ms >= sinceMs && began.ms <= contact.from.ms)
      .map(({ record }) => record.id),
    isClean: isClean && open === null,
    open,
    isBackInItsWell: !isClean && isBackInItsWell(index, contact),
    rinsateBefore: rinsates[next - 1]?.record.id ?? null,
    rinsateAfter: rinsates[next]?.record.id ?? null,
  };
}

/** From a sample back to the units and soft parts that it passed, the wells they had met before and their decons. */
export function trailOfSample(index: EquipmentIndex, sampleId: string): SampleTrail | undefined {
  const sample = index.samples.get(sampleId);
  if (!sample) return undefined;
  const { visit, number, suites } = sample.record.fields;
  const units = new Set((index.contactsOfVisit.get(visit) ?? []).map(({ unit }) => unit));
  const contacts = [...units].toSorted().flatMap((unit) => {
    const linked = (index.samplesOfUnit.get(unit) ?? []).find(({ record }) => record.id === sampleId);
    return linked ? [linked.contact] : [];
  });
  return {
    sample: sampleId,
    number,
    visit,
    suites,
    well: index.visits.get(visit)?.well ?? '',
    behind: contacts.flatMap((contact) =>
      carriersDuring(index, contact).map((carrier) => carrierBehind(index, carrier, contact)),
    ),
  };
}
