import type { VisitBundle } from '../visit-bundle.ts';

export interface FormerValue {
  readonly record: string;
  readonly field: string;
  readonly value: unknown;
}

/**
 * The values that corrections superseded, oldest first within a field. A field that was empty and then filled in was
 * completed, not corrected, and is left out.
 */
export function formerValues(superseded: VisitBundle['superseded']): readonly FormerValue[] {
  return [...superseded].flatMap(([record, fields]) =>
    [...fields].flatMap(([field, values]) =>
      values.filter((value) => value != null).map((value) => ({ record, field, value })),
    ),
  );
}

type Changes = ReadonlyMap<string, Readonly<Record<string, unknown>>>;

/** The first value wins, so that a list oldest first gives each field as it was first recorded. */
function changesOf(values: readonly FormerValue[]): Changes {
  const changes = new Map<string, Record<string, unknown>>();
  for (const { record, field, value } of values)
    changes.set(record, { [field]: value, ...(changes.get(record) ?? {}) });
  return changes;
}

/** The visit as it would stand with these former values, all else as it is now. */
export function withFormerValues(bundle: VisitBundle, values: readonly FormerValue[]): VisitBundle {
  const changes = changesOf(values);
  const one = <Item extends { readonly id: string; readonly fields: object }>(record: Item): Item => {
    const change = changes.get(record.id);
    return change === undefined ? record : { ...record, fields: { ...record.fields, ...change } };
  };
  return {
    ...bundle,
    event: one(bundle.event),
    visit: one(bundle.visit),
    well: one(bundle.well),
    nestWells: bundle.nestWells.map(one),
    measuringPoints: bundle.measuringPoints.map(one),
    levels: bundle.levels.map(one),
    soundings: bundle.soundings.map(one),
    setUps: bundle.setUps.map(one),
    samples: bundle.samples.map(one),
    purges: bundle.purges.map((purge) => ({
      purge: one(purge.purge),
      readings: purge.readings.map(one),
      occurrences: purge.occurrences.map(one),
      calls: purge.calls.map(one),
    })),
    units: new Map([...bundle.units].map(([id, unit]) => [id, one(unit)])),
  };
}
