import { PARAMETERS, type Parameter } from '../../../catalog/parameters.ts';
import { quantityRead } from '../../assessment/parameter-reading.ts';
import { byId, byKey, live } from '../by-key.ts';
import { compareEntered } from '../contacts.ts';
import type { EquipmentRecords, MeterReadingRecord } from '../equipment-records.ts';
import { compareMoments, type Moment, momentOf } from '../moment.ts';
import type { PlacedVisit } from '../placed-visit.ts';

/** What a reading says of one parameter. */
export interface MeterValue {
  readonly parameter: Parameter;
  /** As entered; null where it is the end of the range of the meter, or in percent of saturation alone. */
  readonly value: string | null;
  readonly turbidityUnit: 'NTU' | 'FNU' | undefined;
}

/**
 * A meter at a visit by its first reading there: the only one that later readings do not change, so that what follows
 * from it need not be derived anew with each of them.
 */
export interface MeterUse {
  readonly meter: string;
  readonly visit: PlacedVisit;
  readonly reading: MeterReadingRecord;
  readonly first: Moment;
  readonly values: readonly MeterValue[];
}

type Fields = MeterReadingRecord['fields'];

function turbidityUnitOf(name: string): 'NTU' | 'FNU' | undefined {
  if (name === 'turbidityNtu') return 'NTU';
  return name === 'turbidityFnu' ? 'FNU' : undefined;
}

function valuesOf(fields: Fields, parameter: Parameter): readonly MeterValue[] {
  const quantity = quantityRead(fields, parameter);
  if (quantity !== undefined) {
    const isEnd = fields.overRange?.includes(quantity.name) || quantity.name === 'temperatureF';
    const value = isEnd ? null : (quantity.of(fields) ?? null);
    return [{ parameter, value, turbidityUnit: turbidityUnitOf(quantity.name) }];
  }
  const isPercent = parameter === 'dissolved-oxygen' && fields.dissolvedOxygenPercent != null;
  return isPercent ? [{ parameter, value: null, turbidityUnit: undefined }] : [];
}

/** What a reading says of each parameter that it names. */
export function meterValues(fields: Fields): readonly MeterValue[] {
  return PARAMETERS.flatMap((parameter) => valuesOf(fields, parameter));
}

/** Every visit of each meter, earliest first. */
export function meterUses(
  records: Pick<EquipmentRecords, 'readings' | 'purges'>,
  visits: ReadonlyMap<string, PlacedVisit>,
): ReadonlyMap<string, readonly MeterUse[]> {
  const purges = byId(live(records.purges));
  const readings = live(records.readings).flatMap((reading) => {
    const { meter, purge, observed } = reading.fields;
    const visit = visits.get(purges.get(purge)?.fields.visit ?? '');
    return meter && visit ? [{ meter, visit, reading, first: momentOf(reading, observed.at, observed) }] : [];
  });
  const groups = byKey(readings, ({ meter, visit }) => `${meter} ${visit.id}`);
  const uses = [...groups.values()].flatMap((group) => {
    const [first] = group.toSorted((a, b) => compareEntered(a.first, b.first));
    return first ? [{ ...first, values: meterValues(first.reading.fields) }] : [];
  });
  return byKey(
    uses.toSorted((a, b) => compareMoments(a.first, b.first)),
    ({ meter }) => meter,
  );
}
