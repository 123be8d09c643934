import type { AbsoluteArithmetic, PercentArithmetic } from '../../science/arithmetic-names.ts';

/** What is set against a percentage, in the words that begin a sentence. */
export const PERCENT_PHRASES: Readonly<Record<PercentArithmetic, string>> = {
  'each-step-of-previous': 'The largest step over the reading before it',
  'each-step-of-pair-mean': 'The largest step over the mean of its two readings',
  'range-of-mean': 'Largest minus smallest over the mean',
  band: 'Half of largest minus smallest over the centre between them',
  'each-of-mean': 'The largest distance from the mean over the mean',
  'earlier-of-last': 'The largest distance from the last reading over the last',
  'later-of-first': 'The largest distance from the first reading over the first',
};

export const ABSOLUTE_PHRASES: Readonly<Record<AbsoluteArithmetic, string>> = {
  'total-spread': 'Largest minus smallest',
  band: 'Half of largest minus smallest',
  'each-step': 'The largest step',
};
