/** One container as it stands on the list that a laboratory is sent. What a duplicate repeats has no place here. */
export interface ListedContainer {
  readonly sampleNumber: string;
  readonly labelId: string;
  /** The instant told to the laboratory. */
  readonly labelTime?: string;
  readonly timeZone: string;
  readonly matrix: string;
  readonly samplingPoint?: string;
  readonly containerType: string;
  readonly volumeMl?: string;
  readonly preservative?: string;
  readonly filtered?: boolean;
  readonly analyses: readonly string[];
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
  /** Of a bottle of a matrix spike, the number under which the laboratory has the sample that is spiked. */
  readonly spikeOf?: string;
  /** What is to be spiked out of this container. */
  readonly spikeAnalyses?: readonly string[];
}
