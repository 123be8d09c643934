/** A value that was corrected: what it was stays readable beside what it is, with who changed it, when and why. */
export interface CorrectedText {
  readonly now: string;
  /** The oldest first. */
  readonly was: readonly OldText[];
}

export interface OldText {
  readonly text: string;
  readonly initials: string;
  /** An instant. */
  readonly at: string;
  readonly reason?: string;
}

export type Written = string | CorrectedText;

/** Who put a container in, or took it out, after somebody signed for the cooler. */
export interface AfterSigningMark {
  readonly initials: string;
  /** By the calendar of the site. */
  readonly day: string;
}

/** Containers of one sample that are alike. */
export interface CustodyContainers {
  readonly count: number;
  readonly type: string;
  readonly volumeMl?: string;
  /** Absent: nobody wrote it down; "none" is written out. */
  readonly preservative?: Written;
  readonly filtered?: boolean;
  readonly analyses: readonly string[];
  /** What is to be spiked out of them; absent where nothing is. */
  readonly spikeAnalyses?: readonly string[];
  /** After somebody signed for the cooler. */
  readonly added?: AfterSigningMark;
  /** After somebody signed for the cooler: they stay readable, and do not count. */
  readonly takenOut?: AfterSigningMark;
  /** How their state differs from what was ordered, as "2 of 3 filled". */
  readonly remark?: string;
}

/**
 * A sample as it is told to the laboratory. What a sample repeats or splits has no place here, and neither has its type but that of a spike:
 * whoever reads the record must not be able to tell a blind one from the rest.
 */
export interface CustodySample {
  readonly sampleNumber: Written;
  /** The instant on the label, which may be another than that of the field record. */
  readonly labelTime: { readonly at: string } | { readonly corrected: CorrectedText };
  readonly matrix: Written;
  readonly samplingPoint: Written;
  readonly containers: readonly CustodyContainers[];
  readonly isForMatrixSpike?: boolean;
  /** Of a matrix spike, the number under which the laboratory has the sample that is spiked; such a one is never blind. */
  readonly spikeOf?: string;
  readonly turnaround?: Written;
  readonly remark?: string;
}

/** A signature of the record: the printed name, for whom, when, and what it means. */
export interface CustodySigner {
  readonly name: string;
  readonly organization?: string;
  readonly initials?: string;
  /** An instant. */
  readonly at?: string;
}

/** A relinquish and the receipt that belongs to it; where one was not recorded, the page says so. */
export interface CustodyPair {
  readonly relinquished?: CustodySigner;
  readonly received?: CustodySigner;
  readonly place?: string;
  readonly reason?: string;
}

/** A time in which nobody is on record as having the cooler, in words. */
export interface CustodyGap {
  readonly from?: string;
  readonly until?: string;
  readonly sentence: string;
}

export interface CustodySeal {
  readonly number: Written;
  readonly appliedAt?: string;
  readonly by?: string;
  readonly brokenAt?: string;
}

/** What the laboratory wrote down when the cooler was opened. */
export interface LaboratoryReceipt {
  readonly receivedBy: string;
  readonly organization?: string;
  readonly at: string;
  readonly temperatureC?: string;
  /** What was measured: the temperature blank, the cooler, a container. */
  readonly temperatureOf?: string;
  readonly ice?: boolean;
  readonly sealsIntact?: boolean;
  readonly sealNumbers?: readonly string[];
  readonly containersCounted?: number;
  readonly laboratoryId?: string;
  readonly conditions: readonly { readonly label: string; readonly condition: string; readonly remark?: string }[];
  readonly remark?: string;
}

/** All that stands on the record of one cooler. */
export interface CustodyRecord {
  readonly recordNumber: string;
  /** The instant at which this copy was made. */
  readonly madeAt: string;
  /** The zone of the site, by whose clocks all times are told. */
  readonly timeZone: string;
  readonly firm: { readonly name: string; readonly contact?: string };
  readonly site: { readonly name: string; readonly number?: string };
  readonly project?: { readonly name: string; readonly number?: string };
  readonly laboratory?: { readonly name: string; readonly address?: string; readonly contact?: string };
  readonly cooler: {
    readonly number: Written;
    readonly packedAt?: string;
    readonly shippedAt?: string;
    readonly shipper?: Written;
    readonly trackingNumber?: Written;
    readonly ice?: string;
  };
  readonly samples: readonly CustodySample[];
  readonly collectors: readonly CustodySigner[];
  readonly seals: readonly CustodySeal[];
  readonly pairs: readonly CustodyPair[];
  readonly gaps: readonly CustodyGap[];
  readonly receipt?: LaboratoryReceipt;
  /** What the laboratory said of it since; none takes a word of another's. */
  readonly laterReceipts?: readonly LaboratoryReceipt[];
  readonly remarks: readonly string[];
}
