/** What a crew is told that takes a blind duplicate for which no time was made up. */
export function makeUpTime(number: string): string {
  return `${number} is a blind duplicate, and no time was made up for its labels: do not write when it was filled, which shows its parent. Make one up among the times of other samples, that is not its parent's and not later than it was filled; write it on the labels and record it as laboratoryTime of the sample.`;
}

/** Also of the rule that asks for it in the evening. */
export const MADE_UP_TIME_SOURCE = {
  source:
    'Hawaii Department of Health, Technical Guidance Manual, 10.6: the laboratory must not be able to link it; another time on the label',
  verified: true,
} as const;
