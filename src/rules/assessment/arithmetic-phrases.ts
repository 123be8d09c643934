import type { AbsoluteArithmetic, PercentArithmetic } from '../../science/arithmetic-names.ts';

/** What is set against a percentage, in the words of a sentence. */
export const PERCENT_PHRASES: Readonly<Record<PercentArithmetic, string>> = {
  'each-step-of-previous': 'the largest step over the reading before it',
  'each-step-of-pair-mean': 'the largest step over the mean of its two readings',
  'range-of-mean': 'largest minus smallest over the mean',
  band: 'half of largest minus smallest over the centre between them',
  'each-of-mean': 'the largest distance from the mean over the mean',
  'earlier-of-last': 'the largest distance from the last reading over the last',
  'later-of-first': 'the largest distance from the first reading over the first',
};

export const ABSOLUTE_PHRASES: Readonly<Record<AbsoluteArithmetic, string>> = {
  'total-spread': 'largest minus smallest',
  band: 'half of largest minus smallest',
  'each-step': 'the largest step',
};
