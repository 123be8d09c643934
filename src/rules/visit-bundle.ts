import type { ZodType } from 'zod';
import type { FieldsOf } from '../protocol/kind.ts';
import type { call } from '../protocol/kinds/call.ts';
import type { event } from '../protocol/kinds/event.ts';
import type { measuringPoint } from '../protocol/kinds/measuring-point.ts';
import type { occurrence } from '../protocol/kinds/occurrence.ts';
import type { pumpSetUp } from '../protocol/kinds/pump-set-up.ts';
import type { purge } from '../protocol/kinds/purge.ts';
import type { reading } from '../protocol/kinds/reading.ts';
import type { sample } from '../protocol/kinds/sample.ts';
import type { sounding } from '../protocol/kinds/sounding.ts';
import type { unit } from '../protocol/kinds/unit.ts';
import type { unitUse } from '../protocol/kinds/unit-use.ts';
import type { visit } from '../protocol/kinds/visit.ts';
import type { waterLevel } from '../protocol/kinds/water-level.ts';
import type { well } from '../protocol/kinds/well.ts';
import type { RecordState } from '../protocol/record.ts';

type Of<Kind extends { fields: ZodType }> = RecordState<FieldsOf<Kind>>;

/** A purge with what was recorded in it. */
export interface PurgeBundle {
  readonly purge: Of<typeof purge>;
  readonly readings: readonly Of<typeof reading>[];
  readonly occurrences: readonly Of<typeof occurrence>[];
  readonly calls: readonly Of<typeof call>[];
}

/**
 * Everything that a visit's assessments and flags are derived from, as it stands now; voided records are included
 * and carry `voided`. Lists come in no particular order.
 */
export interface VisitBundle {
  readonly event: Of<typeof event>;
  readonly visit: Of<typeof visit>;
  readonly well: Of<typeof well>;
  /** The other wells of its nest. */
  readonly nestWells: readonly Of<typeof well>[];
  readonly measuringPoints: readonly Of<typeof measuringPoint>[];
  readonly levels: readonly Of<typeof waterLevel>[];
  readonly soundings: readonly Of<typeof sounding>[];
  readonly setUps: readonly Of<typeof pumpSetUp>[];
  readonly samples: readonly Of<typeof sample>[];
  /** Which units were at the well. */
  readonly uses: readonly Of<typeof unitUse>[];
  readonly purges: readonly PurgeBundle[];
  /** The pumps, meters, cells and tapes that the records name, by id. */
  readonly units: ReadonlyMap<string, Of<typeof unit>>;
  /** Values that corrections superseded, oldest first, by record id and field. */
  readonly superseded: ReadonlyMap<string, ReadonlyMap<string, readonly unknown[]>>;
}
