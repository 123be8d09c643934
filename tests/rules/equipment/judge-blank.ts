import { judgeAgainstBlank } from '../../../src/rules/decon/blank-limit.ts';
import type { JudgeByBlank } from '../../../src/rules/equipment/judged-sample.ts';

/** The rule of the blank as the server applies it. */
export const BY_BLANK: JudgeByBlank = (sample, blank) => judgeAgainstBlank(blank, sample);
