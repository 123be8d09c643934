import type { NotExported, WqxActivity, WqxResult } from '../../documents/wqx/wqx-facts.ts';
import { READING_QUANTITY_NAMES } from '../../protocol/kinds/reading.ts';
import { waterElevation } from '../../rules/exchange/water-elevation.ts';
import type { WqxNames } from './wqx-names.ts';
import type { WqxWorld } from './wqx-world.ts';

/** Field records of a visit are preliminary until somebody validates them, which is done elsewhere. */
const MEASURED = { status: 'Preliminary', valueType: 'Actual' } as const;

/** Depths are told below the casing top, where their measuring point is; the comment says which mark that is. */
function quantityOf(name: string): string {
  return name === 'depthToWaterFt' ? 'depthBelowCasingTopFt' : name;
}

function pointComment({ points }: WqxWorld, well: string, at: string, cited: string | undefined): string {
  const { point } = waterElevation(points.get(well) ?? [], { at, measuringPoint: cited });
  return point === null ? 'Below the measuring point of the well.' : `Below the measuring point: ${point}`;
}

interface AtVisit {
  readonly id: string;
  readonly visit: string | undefined;
  readonly at: string;
  readonly remark: string | undefined;
}

function activity(world: WqxWorld, names: WqxNames, of: AtVisit, results: readonly WqxResult[]): WqxActivity {
  const well = of.visit === undefined ? undefined : world.index.visits.get(of.visit)?.fields.well;
  const identifier = well === undefined ? undefined : names.well(well);
  return {
    identifier: of.id,
    kind: 'field-measurement',
    projects: [names.project],
    ...(identifier === undefined ? {} : { well: identifier }),
    began: { at: of.at, timeZone: world.timeZone },
    ...(of.remark === undefined ? {} : { comment: of.remark }),
    results,
  };
}

function* readings(world: WqxWorld, names: WqxNames): Generator<WqxActivity, void> {
  const purges = new Map(world.index.of.purges.map((one) => [one.id, one.fields.visit]));
  for (const { id, fields } of world.readings) {
    const visit = purges.get(fields.purge);
    const { at } = fields.observed;
    const over = new Set<string>(fields.overRange ?? []);
    const told = READING_QUANTITY_NAMES.filter((name) => fields[name] !== undefined && !over.has(name));
    const well = world.index.visits.get(visit ?? '')?.fields.well ?? '';
    const results = told.map((name): WqxResult => {
      const value = String(fields[name]);
      const comment = name === 'depthToWaterFt' ? { comment: pointComment(world, well, at, undefined) } : {};
      return { id: name, of: { quantity: quantityOf(name) }, value, ...MEASURED, ...comment };
    });
    yield activity(world, names, { id, visit, at, remark: fields.remark }, results);
  }
}

function* levels(world: WqxWorld, names: WqxNames): Generator<WqxActivity, void> {
  for (const { id, fields } of world.levels) {
    const { visit, depthToWaterFt: value, measuringPoint, observed, purpose } = fields;
    if (value === undefined) continue;
    const well = world.index.visits.get(visit)?.fields.well ?? '';
    const comment = `${pointComment(world, well, observed.at, measuringPoint)} (${purpose})`;
    const result: WqxResult = { id: 'level', of: { quantity: 'depthBelowCasingTopFt' }, value, ...MEASURED, comment };
    yield activity(world, names, { id, visit, at: observed.at, remark: fields.remark }, [result]);
  }
}

function* soundings(world: WqxWorld, names: WqxNames): Generator<WqxActivity, void> {
  for (const { id, fields } of world.soundings) {
    const { visit, depthToBottomFt: value, measuringPoint, observed } = fields;
    const well = world.index.visits.get(visit)?.fields.well ?? '';
    const comment = pointComment(world, well, observed.at, measuringPoint);
    const of = { quantity: 'wellDepthBelowCasingTopFt' };
    yield activity(world, names, { id, visit, at: observed.at, remark: fields.remark }, [
      { id: 'bottom', of, value, ...MEASURED, comment },
    ]);
  }
}

/** What was measured at the wells. */
export function* fieldActivities(world: WqxWorld, names: WqxNames): Generator<WqxActivity, void> {
  yield* readings(world, names);
  yield* levels(world, names);
  yield* soundings(world, names);
}

/** What of it no element tells: figures at the end of a range, and levels without a figure. */
export function fieldNotTold({ readings: all, levels: depths }: WqxWorld): readonly NotExported[] {
  const over = all.flatMap(({ id, fields }) =>
    (fields.overRange ?? []).map((name) => ({
      what: `result ${name} of activity ${id}`,
      why: 'its figure is the end of the range of the meter, and no measurement',
    })),
  );
  const without = depths.filter(({ fields }) => fields.depthToWaterFt === undefined);
  return [
    ...over,
    ...without.map(({ id, fields }) => ({
      what: `water level ${id}`,
      why: `the well was ${fields.state}: there is no figure`,
    })),
  ];
}
