import { SAMPLE_TYPES } from '../../../protocol/kinds/sample.ts';
import { fieldEvidence } from '../../flags/evidence.ts';
import type { Evidence } from '../../flags/raised-flag.ts';
import type { PlannedRecord, SampleRecord } from '../sample-records.ts';
import type { SampleFacts } from './sample-facts.ts';

type SampleType = (typeof SAMPLE_TYPES)[number];
type Known = Pick<SampleFacts, 'samples' | 'planned'>;

function planOf({ fields }: SampleRecord, { planned }: Pick<Known, 'planned'>): PlannedRecord | undefined {
  return planned.find(({ id }) => id === fields.planned);
}

/** What a sample is: as it says itself, or else as it was planned. */
export function typeOf(sample: SampleRecord, known: Pick<Known, 'planned'>): SampleType {
  const planned = planOf(sample, known)?.fields.type;
  return sample.fields.type ?? SAMPLE_TYPES.find((type) => type === planned) ?? 'normal';
}

/** What tells it. */
export function typeEvidence(sample: SampleRecord, known: Pick<Known, 'planned'>): readonly Evidence[] {
  const plan = sample.fields.type === undefined ? planOf(sample, known) : undefined;
  return [fieldEvidence(sample, 'type'), ...(plan ? [fieldEvidence(plan, 'type')] : [])];
}

/**
 * The sample that it goes with: as it says itself, or else the one of this visit that was taken for the planned parent;
 * where none was, the id of the plan, which no sample has.
 */
export function parentOf(sample: SampleRecord, known: Known): string | undefined {
  const planned = planOf(sample, known)?.fields.of;
  const taken = planned === undefined ? undefined : known.samples.find(({ fields }) => fields.planned === planned);
  return sample.fields.of ?? taken?.id ?? planned;
}

/** The time that the laboratory is told, where one was written. */
export function writtenTime(sample: SampleRecord, known: Pick<Known, 'planned'>): string | undefined {
  return sample.fields.laboratoryTime ?? planOf(sample, known)?.fields.laboratoryTime ?? undefined;
}
