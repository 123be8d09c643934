import type { SamplingPlan } from '../../protocol/sampling-plan.ts';
import type { ContentsChange } from './contents-changes.ts';
import type { FormerValue } from './former-values.ts';
import type { PackedTwice } from './packed-twice.ts';

type Fields = Readonly<Record<string, unknown>>;

/** "10:05" is on the first day, "+1 09:00" on the next, by the clock of the site. */
export type VectorTime = string;

/** A side of a change of custody. */
export type VectorHand = readonly ['out' | 'in', VectorTime, string, Fields?];

/** A container in the cooler; of a sample that was collected at 10:00 where nothing else is said. */
export interface VectorBottle {
  /** Default: volatiles. */
  readonly group?: string;
  readonly blank?: 'trip' | 'temperature' | 'equipment';
  /** Null: not filled. */
  readonly collected?: VectorTime | null;
  /** Of its sample. */
  readonly laboratory?: string;
  /** Further fields of the container. */
  readonly more?: Fields;
  readonly fill?: Fields;
}

/** A cooler in short, as a rule sees it. */
export interface CustodyVectorGiven {
  readonly cooler?: Fields;
  readonly bottles?: Readonly<Record<string, VectorBottle>>;
  /** Labels of containers that are packed in another cooler. */
  readonly elsewhere?: readonly string[];
  readonly seals?: readonly (readonly [number: string, applied: VectorTime, broken?: VectorTime])[];
  readonly hands?: readonly VectorHand[];
  readonly checks?: readonly (readonly [VectorTime, Fields?])[];
  /** Received at +1 09:00 where nothing else is said. */
  readonly receipt?: Fields & { readonly received?: VectorTime };
  readonly plan?: SamplingPlan;
  /** By name, what each has for its groups; every sample is for one that is called "suite". */
  readonly suites?: Readonly<Record<string, readonly Fields[]>>;
  /** When it is asked, for what depends on that. */
  readonly now?: VectorTime;
  readonly contents?: readonly (Pick<ContentsChange, 'label' | 'act'> & {
    readonly at: VectorTime;
  } & Partial<ContentsChange>)[];
  readonly twice?: readonly PackedTwice[];
  /** Other coolers of the event. */
  readonly others?: readonly {
    readonly number: string;
    readonly packed?: VectorTime;
    readonly received?: VectorTime;
    readonly seals?: CustodyVectorGiven['seals'];
  }[];
  readonly former?: readonly (Omit<FormerValue, 'at' | 'written'> & {
    readonly at: VectorTime;
    /** Where that is another time. */
    readonly captured?: VectorTime;
  } & Partial<Pick<FormerValue['written'], 'uncertaintyMs'>>)[];
}

/** A case with its outcome; a test replays each. */
export interface CustodyVector {
  readonly name: string;
  readonly given: CustodyVectorGiven;
  /** What the sentence holds; null where nothing is asked. */
  readonly expect: string | null;
}
