import { describe, expect, it } from 'vitest';
import { stepAnswer } from '../../src/client-node/crew/equipment/step-answer.ts';
import type { StepToDo } from '../../src/rules/decon/steps-for-unit.ts';

const RINSE: StepToDo = {
  step: 'tap-rinse',
  action: 'Rinse',
  times: 1,
  fluids: ['tap water', 'distilled water'],
  strength: null,
  when: null,
  cautions: [],
  newPart: null,
  isWasteToDrum: true,
} as unknown as StepToDo;
const PLAIN: StepToDo = { ...RINSE, fluids: [] };
const AT_TIMES: StepToDo = { ...RINSE, when: 'oil is seen' };
const PART = { ...RINSE, fluids: [], newPart: 'bladder' } as StepToDo;

describe('the answer to a step of a decon', () => {
  it('takes Enter, y and done, a fluid by number or by its name, and another only when it is named as one', () => {
    const tap = { is: 'done', fluid: 'tap water' };
    for (const line of ['', 'y', 'Yes', 'done', '1', 'Tap Water', 'y 1']) expect(stepAnswer(line, RINSE)).toEqual(tap);
    expect(stepAnswer('2 lot=L-7', RINSE)).toEqual({ is: 'done', fluid: 'distilled water', lot: 'L-7' });
    expect(stepAnswer('fluid=well water lot=L 8', RINSE)).toEqual({ is: 'done', fluid: 'well water', lot: 'L 8' });
    expect(stepAnswer('lot=L-7', AT_TIMES)).toEqual({ is: 'done', fluid: 'tap water', lot: 'L-7' });
    expect(stepAnswer('', AT_TIMES)).toEqual({ is: 'does-not-apply' });
    expect(stepAnswer('', PLAIN)).toEqual({ is: 'done' });
  });

  it('asks about any other word, and says what may stand there', () => {
    for (const line of ['skip', 'banana', 'd', 'stop it', 'y banana', 'tap', 'help', '?', '3', '1 fluid=tap water'])
      for (const step of [RINSE, PLAIN, AT_TIMES])
        expect(stepAnswer(line, step), line).toMatchObject({ is: 'unclear' });
    expect(stepAnswer('skip', RINSE)).toMatchObject({ say: expect.stringContaining('tap water or distilled water') });
    expect(stepAnswer('skip', AT_TIMES)).toMatchObject({ say: expect.stringContaining('Enter: not needed here') });
    expect(stepAnswer('n', RINSE)).toMatchObject({ say: expect.stringContaining('n REASON') });
    expect(stepAnswer('n lot=L-7 was empty', RINSE)).toEqual({ is: 'left-out', why: 'lot=L-7 was empty' });
  });

  it('takes a word without a figure as the label of a new part only when it is typed once more or named as one', () => {
    expect(stepAnswer('B-2 lot=L4', PART)).toEqual({ is: 'done', part: 'B-2', lot: 'L4' });
    expect(stepAnswer('skip', PART)).toMatchObject({
      is: 'unclear',
      say: expect.stringContaining('is "skip" written'),
    });
    expect(stepAnswer('spare', PART, 'spare')).toMatchObject({ is: 'done', part: 'spare' });
    expect(stepAnswer('part=spare', PART)).toMatchObject({ is: 'done', part: 'spare' });
    expect(stepAnswer('', PART)).toMatchObject({ is: 'unclear' });
    expect(stepAnswer('', PART, '')).toMatchObject({ is: 'done' });
  });
});
