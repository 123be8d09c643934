/** How a bar is filled: the position of its row says what it is, and its shade and pattern say it again. */
export const BAR_LOOKS = [
  'unknown',
  'clean',
  'in-a-well',
  'used',
  'being-cleaned',
  'out-of-service',
  'down-the-well',
  'on-the-line',
  'beside-the-well',
  'complete',
  'not-complete',
  'part',
  'crew',
] as const;
export type BarLook = (typeof BAR_LOOKS)[number];

export const MARK_SHAPES = ['clean', 'failed', 'traces', 'no-result', 'service', 'service-failed'] as const;
export type MarkShape = (typeof MARK_SHAPES)[number];

export interface Bar {
  readonly fromMs: number;
  /** Null: it goes on. */
  readonly untilMs: number | null;
  readonly look: BarLook;
  /** Beside or in it, where there is room. */
  readonly label: string | null;
  readonly tells: string;
}

export interface Mark {
  readonly ms: number;
  readonly shape: MarkShape;
  readonly label: string | null;
  readonly tells: string;
}

export interface TimelineRow {
  /** What belongs together: "State". */
  readonly group: string;
  readonly label: string;
  readonly bars: readonly Bar[];
  readonly marks: readonly Mark[];
}
