import type { FieldsOf } from '../../protocol/kind.ts';
import type { call } from '../../protocol/kinds/call.ts';
import type { measuringPoint } from '../../protocol/kinds/measuring-point.ts';
import type { occurrence } from '../../protocol/kinds/occurrence.ts';
import type { pumpSetUp } from '../../protocol/kinds/pump-set-up.ts';
import type { reading } from '../../protocol/kinds/reading.ts';
import type { sample } from '../../protocol/kinds/sample.ts';
import type { sounding } from '../../protocol/kinds/sounding.ts';
import type { unit } from '../../protocol/kinds/unit.ts';
import type { unitUse } from '../../protocol/kinds/unit-use.ts';
import type { visit } from '../../protocol/kinds/visit.ts';
import type { waterLevel } from '../../protocol/kinds/water-level.ts';
import type { well } from '../../protocol/kinds/well.ts';
import type { AssessmentLike } from './assessment-like.ts';

/** Only the fields that matter to the case, and the time of day ("10:05") of an observation or a sample. */
type Given<Fields> = Partial<Omit<Fields, 'observed'>> & {
  readonly at?: string;
  /** When the assignment of its crew had ended. */
  readonly afterAssignment?: string;
  /** It was handed in as a copy, by a device whose crew had a right in the event, or had none. */
  readonly carriedWithRight?: boolean;
};

/** A visit in a few words; what is not given is that of an ordinary low-flow visit without any observation. */
export interface VectorGiven {
  readonly visit?: Given<FieldsOf<typeof visit>>;
  readonly well?: Given<FieldsOf<typeof well>>;
  readonly nestWells?: readonly Given<FieldsOf<typeof well>>[];
  /** Of the well; valid since long ago. */
  readonly measuringPoints?: readonly Given<FieldsOf<typeof measuringPoint>>[];
  /** The one pump of the case. */
  readonly pump?: Given<FieldsOf<typeof unit>>;
  readonly levels?: readonly Given<FieldsOf<typeof waterLevel>>[];
  readonly soundings?: readonly Given<FieldsOf<typeof sounding>>[];
  readonly setUps?: readonly Given<FieldsOf<typeof pumpSetUp>>[];
  readonly samples?: readonly Given<FieldsOf<typeof sample>>[];
  /** Of the one pump, at the well. */
  readonly uses?: readonly Given<FieldsOf<typeof unitUse>>[];
  readonly readings?: readonly Given<FieldsOf<typeof reading>>[];
  readonly occurrences?: readonly Given<FieldsOf<typeof occurrence>>[];
  readonly calls?: readonly Given<FieldsOf<typeof call>>[];
  /** Of the one purge of the case. */
  readonly assessment?: AssessmentLike;
}

export interface FlagVector {
  readonly name: string;
  readonly given: VectorGiven;
  readonly expect: 'raised' | 'silent';
  /** Words that the sentence must have. */
  readonly says?: string;
}
