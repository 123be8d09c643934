import type { PlannedType } from './proposed.ts';

/** Which of the two it is, is for the laboratory: the one stands for the other. */
export const DUPLICATES: readonly PlannedType[] = ['duplicate', 'blind-duplicate'];
export const SPIKES: readonly PlannedType[] = ['matrix-spike'];

/** What is taken on top of a sample, at its well, as often as a frequency asks for. */
export const QC_OF_WELLS: readonly PlannedType[] = [...DUPLICATES, ...SPIKES];
