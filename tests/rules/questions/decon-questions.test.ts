import { describe, expect, it } from 'vitest';
import type { z } from 'zod';
import { deconComplete } from '../../../src/rules/questions/decon-complete.ts';
import { deconProtocol } from '../../../src/rules/questions/decon-protocol.ts';
import type { Question } from '../../../src/rules/questions/question.ts';

function ask<Input extends z.ZodObject, Output extends z.ZodObject>(question: Question<Input, Output>, given: unknown) {
  const answer = question.answer(question.input.parse(given));
  expect(question.output.parse(answer)).toEqual(answer);
  return answer;
}

function examples(question: { readonly input: z.ZodObject }): readonly object[] {
  return question.input.meta()?.examples as readonly object[];
}

describe('how is this unit cleaned between these two wells', () => {
  const [pump, tape] = examples(deconProtocol);

  it('a pump that was used and not cleaned may not go down, and a rinsate is proposed', () => {
    const answer = ask(deconProtocol, pump);
    expect(answer).toMatchObject({
      effort: 'full',
      classes: ['organics', 'pfas'],
      mayGoDown: 'no',
      isRinsateProposed: true,
    });
    expect(answer.mayGoDownBecause).toContain('Pump P2 was used in MW-3');
    expect(answer.protocols.slice(0, 2).map(({ protocol }) => protocol)).toEqual([
      'bladder-pump-new-parts',
      'pfas-free-rinse',
    ]);
    expect(answer.cautions.at(-1)).toContain('site safety plan');
  });

  it('once it is clean it may', () => {
    expect(ask(deconProtocol, { ...pump, state: 'clean' })).toMatchObject({ mayGoDown: 'yes' });
  });

  it('a tape is wiped down, and without a state nobody can tell', () => {
    expect(ask(deconProtocol, tape)).toMatchObject({ effort: 'wipe-down', mayGoDown: 'cannot-tell' });
  });

  it('tubing is not moved', () => {
    const given = { ...pump, unit: { type: 'tubing', use: 'shared' }, state: 'clean' };
    expect(ask(deconProtocol, given)).toMatchObject({ effort: 'replace', steps: [], mayGoDown: 'no' });
  });

  it('takes the plan, the acetone and the frost from what is given', () => {
    const given = { ...pump, planned: ['organics-acetone-rinse'], acetoneIsAnalyte: true, isFreezing: true };
    const answer = ask(deconProtocol, given);
    expect(answer.steps.find(({ step }) => step === 'solvent-rinse')?.fluids).toEqual(['isopropanol, pesticide grade']);
    expect(answer.reasons.join(' ')).toContain('In freezing weather');
  });
});

describe('is this decontamination complete', () => {
  const [tape, pump] = examples(deconComplete) as [Record<string, unknown>, Record<string, unknown>];

  it('with every step: complete, with its label', () => {
    expect(ask(deconComplete, tape)).toMatchObject({ standing: 'complete', isClean: true, refused: null });
    expect(ask(deconComplete, tape).label.slice(0, 2)).toEqual(['Tape T1', 'Decontaminated 2026-05-04']);
  });

  it('without: incomplete, with what is missing and no label', () => {
    const answer = ask(deconComplete, pump);
    expect(answer).toMatchObject({ standing: 'incomplete', isClean: false, label: [] });
    expect(answer.findings.map(({ step }) => step)).toContain('new-bladder');
    expect(answer.reasons[0]).toContain('incomplete, 7 open');
  });

  it('a deviation stands on the label', () => {
    const steps = (tape.steps as { step: string }[]).map((one) =>
      one.step === 'bag' ? { ...one, done: false, reason: 'It goes into the next well at once.' } : one,
    );
    const answer = ask(deconComplete, { ...tape, steps });
    expect(answer.standing).toBe('complete-with-deviation');
    expect(answer.label.at(-1)).toContain('It goes into the next well at once.');
  });

  it('parts and changes of parts count', () => {
    const at = '2026-05-04T10:20:00-05:00';
    const parts = [{ id: 'b', type: 'bladder' }];
    const answer = ask(deconComplete, { ...pump, parts, partChanges: [{ part: 'b', action: 'installed', at }] });
    expect(answer.findings.map(({ step }) => step)).not.toContain('new-bladder');
  });

  it('while it is under way there is no label', () => {
    expect(ask(deconComplete, { ...tape, ended: undefined })).toMatchObject({ standing: 'under-way', label: [] });
  });

  it('is refused for a protocol that is not in the catalog', () => {
    const answer = ask(deconComplete, { ...tape, protocol: 'as we always do' });
    expect(answer).toMatchObject({ standing: 'cannot-tell', isClean: null, reasons: [] });
    expect(answer.refused).toContain('holds no protocol');
  });
});
