import type { Commands } from '../command.ts';
import { DECON_USAGE, guideDecon } from '../equipment/decon-guide.ts';
import { RINSATE_USAGE, SAMPLE_USAGE, takeRinsate, takeSample } from '../equipment/samples.ts';

export const CLEANING_COMMANDS: Commands = {
  sample: {
    usage: SAMPLE_USAGE,
    does: 'the bottles of a well are filled, under the number on them',
    takesTime: true,
    run: (crew, { words }) => takeSample(crew, words),
  },
  decon: {
    usage: DECON_USAGE,
    does: 'clean it step by step, each step kept as you answer; --done: all of a wipe-down or a rinse at once',
    run: (crew, { words, keys, write, said }) => guideDecon(crew, words, { keys, write, isDone: said('done') }),
  },
  rinsate: {
    usage: RINSATE_USAGE,
    does: 'clean water through a cleaned unit, as a sample: for what was sampled with it, where you name no suites',
    takesTime: true,
    run: (crew, { words }) => takeRinsate(crew, words),
  },
};
