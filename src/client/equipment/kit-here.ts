import type { RecordState } from '../../protocol/record.ts';
import type { KitRecords } from '../../rules/kit/kit-records.ts';
import { type KitTold, kitTold } from '../../rules/kit/kit-told.ts';
import { readable } from '../../rules/readable.ts';
import type { EquipmentHere } from './equipment-here.ts';
import { unitsOfCrew } from './units-here.ts';

export interface KitAsked {
  readonly crew: string;
  readonly event: RecordState;
  /** Where the site is. */
  readonly day: string;
}

function ofKind({ device }: EquipmentHere, kind: string): readonly RecordState[] {
  const states = device.world.ofKind(kind).map(({ state }) => state);
  return states.filter(({ voided }) => voided === null).toSorted((a, b) => (a.id < b.id ? -1 : 1));
}

/** What was stored has the shape of its kind, once it is read as one. */
function read<Record>(states: readonly RecordState[]): readonly Record[] {
  return states.map((state) => readable(state) as unknown as Record);
}

/** Those that are named; where none is, those of the site that no other crew has. */
function wellsFor(all: EquipmentHere, { crew, event }: KitAsked, own: readonly RecordState[]): readonly RecordState[] {
  const named = new Set(own.flatMap(({ fields }) => (typeof fields.well === 'string' ? [fields.well] : [])));
  if (named.size > 0 || own.length === 0) return ofKind(all, 'well').filter(({ id }) => named.has(id));
  const open = ofKind(all, 'well-claim').filter(({ fields }) => !fields.until);
  const others = [...ofKind(all, 'assignment'), ...open].filter(
    ({ fields }) => fields.event === event.id && fields.crew !== crew,
  );
  const taken = new Set(others.map(({ fields }) => fields.well));
  return ofKind(all, 'well').filter(
    ({ id, fields }) => fields.site === event.fields.site && fields.standing !== 'decommissioned' && !taken.has(id),
  );
}

/** What a crew takes along for a day, and what its check of that morning found, by what is on this device. */
export function kitHere(all: EquipmentHere, asked: KitAsked): KitTold {
  const { crew, event, day } = asked;
  const its = (kind: string) => ofKind(all, kind).filter(({ fields }) => fields.event === event.id);
  const own = its('assignment').filter(({ fields }) => fields.crew === crew);
  const site = ofKind(all, 'site').filter(({ id }) => id === event.fields.site);
  const { plan } = (readable(event) as unknown as { readonly fields: Pick<KitRecords, 'plan'> }).fields;
  return kitTold({
    event: event.id,
    crew,
    day,
    site: read<NonNullable<KitRecords['site']>>(site)[0] ?? null,
    plan,
    assignments: read(own),
    wells: read(wellsFor(all, asked, own)),
    visits: read(its('visit')),
    units: unitsOfCrew(all, crew).map(({ unit }) => unit),
    checks: read(its('kit-check').filter(({ fields }) => fields.crew === crew)),
  });
}
