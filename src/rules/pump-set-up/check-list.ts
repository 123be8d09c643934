import type { KindAnswer } from './kinds-part.ts';
import type { PlanInput } from './plan-input.ts';

const EVERY = [
  'Level and total depth measured, and the tag on the casing read, before the pump goes in.',
  'A line is tied to the pump before it goes down.',
  'O-rings are there and inspected: missing ones leak.',
  'The pump is let down slowly, and the level is let come to rest.',
  'The flow cell is taken off the line before the first bottle is filled.',
];

const BY_GAS = [
  'The water line is longer than the air line at the surface, and the two are told apart.',
  'The maximum rating of each part is read on the part itself before the gas is opened.',
  'The line is vented before anything is disconnected.',
];

const POLARITY = 'Polarity of the 12 V DC is checked before the compressor is switched on.';

/** What is ticked off before pumping; common practice, no source. */
export function checkList({ driveGasFrom, productOrVapour }: PlanInput, kinds: readonly KindAnswer[]): string[] {
  const gas = kinds.some((one) => one.kind === 'bladder-pump' && one.serves !== 'no');
  const compressor = gas && driveGasFrom !== 'cylinder' && !productOrVapour;
  return [...EVERY, ...(gas ? BY_GAS : []), ...(compressor ? [POLARITY] : [])];
}
