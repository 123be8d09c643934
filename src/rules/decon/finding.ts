/** What a finding is about. */
export const DECON_FINDING_TOPICS = ['step', 'order', 'part', 'fluid', 'lot', 'waste', 'time', 'gear'] as const;

/** Something that the record of a decontamination lacks, or has otherwise than its protocol. */
export interface DeconFinding {
  readonly topic: (typeof DECON_FINDING_TOPICS)[number];
  /** Of the protocol; null where it is about the whole. */
  readonly step: string | null;
  /** What it calls in question: whether the unit is clean, or only what is written of it. */
  readonly concerns: 'cleaning' | 'record';
  /** Done otherwise with a reason: a deviation, which is kept. What cleans and was left out is none, whatever the reason. */
  readonly isDeviation: boolean;
  readonly sentence: string;
}

export function finding(
  topic: DeconFinding['topic'],
  step: string | null,
  concerns: DeconFinding['concerns'],
  sentence: string,
  reason?: string | null,
): DeconFinding {
  const why = reason ? ` Reason given: ${reason}` : '';
  return { topic, step, concerns, isDeviation: Boolean(reason), sentence: `${sentence}${why}` };
}

/** What no reason makes good: the reason is told, and the unit is not clean. */
export function notExcused(
  topic: DeconFinding['topic'],
  step: string | null,
  sentence: string,
  reason?: string | null,
): DeconFinding {
  return { ...finding(topic, step, 'cleaning', sentence, reason), isDeviation: false };
}
