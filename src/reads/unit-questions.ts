import { unitTimelineSvg } from '../documents/unit-timeline/unit-timeline-svg.ts';
import type { BlankSamplesGiven, BlankSamplesTold } from '../rules/equipment-told/blank-told.ts';
import type { SampleTrailTold } from '../rules/equipment-told/sample-trail-told.ts';
import type { UnitSpanTold, UnitStateTold } from '../rules/equipment-told/unit-state-told.ts';
import type { UnitTrailGiven, UnitTrailTold } from '../rules/equipment-told/unit-trail-told.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { blankSamples } from './blank-samples.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import { inSight } from './in-sight.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';
import { sampleTrail } from './sample-trail.ts';
import type { ToldPage, ToldPageGiven } from './told-page.ts';
import { equipmentOfUnits, type UnitEquipment } from './unit-equipment.ts';
import { type UnitTimelinePage, unitEntries, unitSpans, unitTrail } from './unit-history.ts';
import { unitByRecords, unitsNow } from './unit-now.ts';
import { type UnitPictureGiven, unitPicture } from './unit-picture.ts';

type Feeds = readonly string[] | null;
type Context = Pick<ReadContext, 'pool'>;

function asked<Told>(
  { pool }: Context,
  reader: Reader,
  question: (tx: ReadTx, feeds: Feeds) => Promise<Told>,
): Promise<Told> {
  return inRead(pool, reader.firm, async (tx) => question(tx, await feedsInSight(tx, reader)));
}

/** @throws Problem `record_missing` for a unit that is not there, or that the reader does not see */
function ofUnit<Told>(
  ctx: Context,
  reader: Reader,
  unit: string,
  question: (equipment: UnitEquipment, feeds: Feeds, tx: ReadTx) => Told | Promise<Told>,
): Promise<Told> {
  return asked(ctx, reader, async (tx, feeds) => {
    await inSight(tx, feeds, 'unit', unit);
    return question(await equipmentOfUnits(tx, [unit]), feeds, tx);
  });
}

/** Where a unit stands, and the record that put it there. */
export function readUnitState(ctx: Context, reader: Reader, unit: string): Promise<UnitStateTold | null> {
  return asked(ctx, reader, async (tx, feeds) => {
    await inSight(tx, feeds, 'unit', unit);
    const [stored] = await unitsNow(tx, [unit]);
    return stored ?? unitByRecords(await equipmentOfUnits(tx, [unit]), unit);
  });
}

export function readUnitStates(
  ctx: Context,
  reader: Reader,
  unit: string,
  given: ToldPageGiven,
): Promise<ToldPage<UnitSpanTold>> {
  return ofUnit(ctx, reader, unit, (equipment) => unitSpans(equipment, unit, given));
}

export function readUnitTimeline(
  ctx: Context,
  reader: Reader,
  unit: string,
  given: ToldPageGiven,
): Promise<UnitTimelinePage> {
  return ofUnit(ctx, reader, unit, (equipment, feeds) => unitEntries(equipment, feeds, unit, given));
}

export function readUnitTrail(
  ctx: Context,
  reader: Reader,
  unit: string,
  given: UnitTrailGiven,
): Promise<UnitTrailTold> {
  return ofUnit(ctx, reader, unit, (equipment, feeds, tx) => unitTrail(tx, feeds, equipment, unit, given));
}

/** The life of a unit as a picture. */
export function readUnitPicture(ctx: Context, reader: Reader, unit: string, given: UnitPictureGiven): Promise<string> {
  return ofUnit(ctx, reader, unit, (equipment, feeds) => unitTimelineSvg(unitPicture(equipment, feeds, unit, given)));
}

export function readSampleTrail(ctx: Context, reader: Reader, sample: string): Promise<SampleTrailTold> {
  return asked(ctx, reader, (tx, feeds) => sampleTrail(tx, feeds, sample));
}

export function readBlankSamples(
  ctx: Context,
  reader: Reader,
  blank: string,
  given: BlankSamplesGiven,
): Promise<BlankSamplesTold> {
  return asked(ctx, reader, (tx, feeds) => blankSamples(tx, feeds, blank, given));
}
