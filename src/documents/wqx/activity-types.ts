/** EPA, Water Quality Exchange, domain list of activity types, edition of 18 March 2025. */
interface ActivityType {
  readonly code: string;
  /** A monitoring location must be named. */
  readonly needsLocation: boolean;
  /** Each result must name its analytical method. */
  readonly needsMethod: boolean;
  readonly isBlank?: true;
}

const type = (code: string, location: 'Y' | 'N', method: 'Y' | 'N'): ActivityType => ({
  code,
  needsLocation: location === 'Y',
  needsMethod: method === 'Y',
});
const blank = (code: string, location: 'Y' | 'N', method: 'Y' | 'N'): ActivityType => ({
  ...type(code, location, method),
  isBlank: true,
});

export const ACTIVITY_TYPES = {
  'field-measurement': type('Field Msr/Obs', 'Y', 'N'),
  'logged-measurement': type('Field Msr/Obs-Portable Data Logger', 'Y', 'N'),
  'calibration-check': type('Quality Control Field Calibration Check', 'N', 'N'),
  'before-calibration': type('Quality Control Field Msr/Obs Pre-Calibration', 'Y', 'N'),
  'after-calibration': type('Quality Control Field Msr/Obs Post-Calibration', 'Y', 'N'),
  'repeat-measurement': type('Quality Control Field Replicate Msr/Obs', 'Y', 'N'),
  normal: type('Sample-Routine', 'Y', 'Y'),
  split: type('Sample-Field Split', 'Y', 'Y'),
  'inter-laboratory-split': type('Quality Control Sample-Inter-lab Split', 'Y', 'Y'),
  resample: type('Sample-Routine Resample', 'Y', 'Y'),
  duplicate: type('Quality Control Sample-Field Replicate', 'Y', 'Y'),
  'blind-duplicate': type('Quality Control Sample-Blind Duplicate', 'Y', 'Y'),
  'matrix-spike': type('Quality Control Sample-Lab Matrix Spike', 'N', 'Y'),
  'matrix-spike-duplicate': type('Quality Control Sample-Lab Matrix Spike Duplicate', 'N', 'N'),
  'rinsate-blank': blank('Quality Control Field Sample Equipment Rinsate Blank', 'N', 'N'),
  'equipment-blank': blank('Quality Control Sample-Equipment Blank', 'N', 'Y'),
  'field-blank': blank('Quality Control Sample-Field Blank', 'N', 'Y'),
  'ambient-blank': blank('Quality Control Sample-Field Ambient Conditions Blank', 'Y', 'Y'),
  'trip-blank': blank('Quality Control Sample-Trip Blank', 'N', 'Y'),
  'pre-preservative-blank': blank('Quality Control Sample-Pre-preservative Blank', 'N', 'Y'),
  'post-preservative-blank': blank('Quality Control Sample-Post-preservative Blank', 'N', 'Y'),
} as const satisfies Record<string, ActivityType>;

/** A temperature blank is no activity of the exchange: it has no code there. */
export type WqxActivityKind = keyof typeof ACTIVITY_TYPES | 'temperature-blank';

export function activityType(kind: WqxActivityKind): ActivityType | undefined {
  return kind === 'temperature-blank' ? undefined : ACTIVITY_TYPES[kind];
}
