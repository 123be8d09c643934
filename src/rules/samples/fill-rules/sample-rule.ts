import type { SuiteGroup } from '../../../protocol/kinds/analyte-suite.ts';
import type { SamplingPlan } from '../../../protocol/sampling-plan.ts';
import type { FlagRuleEntry, Method } from '../../flags/flag-rule.ts';
import type { Finding } from '../../flags/raised-flag.ts';
import type {
  CallRecord,
  ContainerRecord,
  FillRecord,
  PlannedRecord,
  PurgeRecord,
  SampleRecord,
  VisitRecord,
} from '../sample-records.ts';
import type { SampleFacts } from './sample-facts.ts';

type Given<Of extends { readonly fields: object }> = Partial<Omit<Of['fields'], 'observed'>>;

/** A container of the case: an acidified vial for volatiles, full since 10:35, but for what is given. */
export interface ContainerGiven extends Given<ContainerRecord> {
  /** Time of day of its fill; with several, of the first. */
  readonly at?: string;
  /** What its fill says; null: it has none; a list: filled so often. */
  readonly fill?: FillGiven | null | readonly FillGiven[];
  /** Another sample of the case than the first, from 0; null for none. */
  readonly of?: number | null;
}
export type FillGiven = Given<FillRecord> & { readonly at?: string };

/** A visit in a few words: low-flow, purged from 10:00 to 10:30, called stable then, one sample taken at 10:35. */
export interface SampleGiven {
  readonly plan?: SamplingPlan;
  /** Null: the containers are of no sample, and of no visit. */
  readonly visit?: Given<VisitRecord> | null;
  readonly purges?: readonly Given<PurgeRecord>[];
  readonly calls?: readonly (Given<CallRecord> & { readonly at?: string })[];
  readonly samples?: readonly (Given<SampleRecord> & { readonly at?: string })[];
  /** What the suite VOC asks for; missing: no suite is known. */
  readonly suite?: readonly SuiteGroup[];
  readonly containers?: readonly ContainerGiven[];
  /** Planned for the well of the visit as W-101, but for what is given. */
  readonly planned?: readonly Given<PlannedRecord>[];
}

export interface SampleVector {
  readonly name: string;
  readonly given: SampleGiven;
  readonly expect: 'raised' | 'silent';
  /** Words that the sentence must have. */
  readonly says?: string;
}

export interface SampleRule extends FlagRuleEntry {
  /** Of visits to which it applies; null: whatever the visit, and where there is none. */
  readonly methods: readonly Method[] | null;
  /** At most one finding a subject, which is a sample or a container. */
  evaluate(facts: SampleFacts): readonly Finding[];
  /** Cases with their outcome; a test replays each. */
  readonly vectors: readonly SampleVector[];
}
