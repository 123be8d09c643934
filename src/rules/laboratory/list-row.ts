/** One container as it stands on a sample list: that of the office, or the one that a laboratory is told. */
export interface SampleListRow {
  readonly sampleNumber: string;
  readonly labelId: string;
  /** An instant; on a list for a laboratory the one that it is told. */
  readonly labelTime?: string;
  readonly timeZone: string;
  readonly matrix: string;
  readonly samplingPoint?: string;
  readonly containerType: string;
  readonly volumeMl?: string;
  readonly preservative?: string;
  readonly filtered?: boolean;
  readonly analyses: readonly string[];
  /** It is of a spike, or a spike is made out of it. */
  readonly isForMatrixSpike?: boolean;
  readonly turnaround?: string;
  readonly laboratory?: string;
  readonly cooler?: string;
  readonly standing: string;
  readonly ph?: string;
  /** As measured at receipt; it may be below zero. */
  readonly temperatureC?: string;
  /** The tightest clock, as an instant. */
  readonly dueAt?: string;
  readonly remark?: string;
  /** Of a bottle of a spike, the number of the sample whose water it is. */
  readonly spikeOf?: string;
  /** What is to be spiked out of it. */
  readonly spikeAnalyses?: readonly string[];
}

/** Fields of a row, some of which may not be known: what is not known is left out, and not written as undefined. */
export type RowDraft = { readonly [Field in keyof SampleListRow]: SampleListRow[Field] | undefined };

export function listRow(draft: RowDraft): SampleListRow {
  const known = Object.entries(draft).filter(([, value]) => value !== undefined);
  // the fields that a row must have are those that a draft must have
  return Object.fromEntries(known) as unknown as SampleListRow;
}
