import type { LevelQuantity, ThingWell } from '../../documents/things/thing-entities.ts';
import type { ThingObservation } from '../../documents/things/thing-facts.ts';
import type { RecordState } from '../../protocol/record.ts';
import { waterElevation } from '../../rules/exchange/water-elevation.ts';
import { readable } from '../../rules/readable.ts';
import type { MeasuringPoint } from '../../rules/well-rounds/well-records.ts';
import type { LevelRow } from '../../store/read/thing-rows.ts';
import { known, type Well } from './site-map.ts';
import { keyOf } from './thing-asked.ts';
import type { Level } from './wqx-world.ts';

/** A well with what its properties tell; measured values are decimal text. */
export function thingWell(state: RecordState): ThingWell {
  const { id, fields } = readable(state) as unknown as Well;
  const { name, latitudeDeg, longitudeDeg, standing, depthsFrom, totalDepthFt, screenTopFt, screenBottomFt } = fields;
  const properties = {
    site: fields.site,
    standing,
    depthsFrom,
    ...known({ totalDepthFt, screenTopFt, screenBottomFt }),
  };
  return { id, name, properties, ...known({ latitudeDeg, longitudeDeg }) };
}

/** A level as an observation of its depth, or of the elevation of the water. */
export function levelObservation(
  { state }: LevelRow,
  points: readonly MeasuringPoint[],
  quantity: LevelQuantity,
): ThingObservation {
  const { id, fields } = readable(state) as unknown as Level;
  const { depthToWaterFt, measuringPoint, observed, purpose, state: found, remark } = fields;
  const seen = waterElevation(points, { depthToWaterFt, measuringPoint, at: observed.at });
  const result = quantity === 'depthToWaterFt' ? depthToWaterFt : (seen.waterElevationFt ?? undefined);
  const parameters = known({ purpose, state: found, measuringPoint: seen.point, datum: seen.datum, remark });
  return {
    id: keyOf({ id, quantity }),
    phenomenonTime: observed.at,
    resultTime: observed.entered,
    parameters: parameters as Readonly<Record<string, string>>,
    ...(result === undefined ? {} : { result }),
  };
}
