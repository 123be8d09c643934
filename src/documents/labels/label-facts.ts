/**
 * What stands on the label of one container. Sources of the least that a label says: sample number, site or project,
 * date, time, initials of the sampler, preservative, analyses and matrix (common practice of field sampling plans);
 * station, date and time and the bottle's designation (USGS National Field Manual, chapter A5, section 5.5.1). What a
 * duplicate repeats has no place here.
 */
export interface ContainerLabel {
  /** The text of the 2D code, unique in the event; printed below the code as well. */
  readonly labelId: string;
  readonly sampleNumber: string;
  readonly site: string;
  readonly project?: string;
  /** The instant told to the laboratory. Absent: the label is printed before the bottle is filled, with room for a pen. */
  readonly labelTime?: string;
  readonly samplerInitials?: string;
  readonly matrix: string;
  readonly container?: string;
  /** "none" is written out; absent leaves room for a pen. */
  readonly preservative?: string;
  readonly filtered?: boolean;
  readonly analyses: readonly string[];
  /** Of a bottle of a matrix spike, the number of the sample that is spiked. */
  readonly spikeOf?: string;
  /** What is to be spiked out of it. */
  readonly spikeAnalyses?: readonly string[];
}

/** Labels in columns and rows on sheets. */
export interface LabelSheet {
  readonly form: 'sheet';
  readonly paperWidthMm: number;
  readonly paperHeightMm: number;
  readonly leftMm: number;
  readonly topMm: number;
  readonly columns: number;
  readonly rows: number;
  readonly labelWidthMm: number;
  readonly labelHeightMm: number;
  readonly gapAcrossMm: number;
  readonly gapDownMm: number;
  /** Labels of the first sheet that are used up already. */
  readonly usedLabels?: number;
}

/** One label after the other: each is a page. */
export interface LabelRoll {
  readonly form: 'roll';
  readonly labelWidthMm: number;
  readonly labelHeightMm: number;
}

export type LabelMedia = LabelSheet | LabelRoll;

export interface LabelsAbout {
  readonly firm: string;
  readonly title: string;
  readonly madeAt: string;
  readonly timeZone: string;
}
