import type { StepToDo } from '../../../rules/decon/steps-for-unit.ts';

/** What a crew answers to one step. */
export type StepAnswer =
  | {
      readonly is: 'done';
      readonly fluid?: string | undefined;
      readonly lot?: string | undefined;
      readonly part?: string | undefined;
    }
  | { readonly is: 'left-out'; readonly why: string }
  | { readonly is: 'does-not-apply' }
  | { readonly is: 'stop' }
  | { readonly is: 'unclear'; readonly say: string };

/** lot=L-7 among other words. */
function lotIn(words: readonly string[]): { readonly lot: string | undefined; readonly rest: readonly string[] } {
  const lot = words.find((one) => one.startsWith('lot='))?.slice(4);
  return { lot: lot || undefined, rest: words.filter((one) => !one.startsWith('lot=')) };
}

function ofPart(rest: readonly string[], lot: string | undefined, newPart: string, isAgain: boolean): StepAnswer {
  const words = rest[0]?.toLowerCase() === 'y' ? rest.slice(1) : rest;
  if (words.length === 0 && lot === undefined && !isAgain)
    return {
      is: 'unclear',
      say: `which new ${newPart}? What is written on it or lot=..; Enter again: put in, and nobody knows which; n and why, if none`,
    };
  return { is: 'done', part: words.join(' ') || undefined, lot };
}

/** A number names one of the fluids, other words another fluid. */
function fluidIn(words: readonly string[], { fluids }: StepToDo): string | undefined {
  const [first = ''] = words;
  if (/^\d+$/.test(first)) return fluids[Number(first) - 1];
  return words.join(' ') || fluids[0];
}

/**
 * Reads the line that answers a step. Nothing typed: done as asked; of what is due only at times: it does not apply.
 *
 * @param isAgain it was asked already: a new part that nobody can name was put in all the same
 */
export function stepAnswer(line: string, step: StepToDo, isAgain = false): StepAnswer {
  const { lot, rest } = lotIn(line.split(/\s+/).filter(Boolean));
  const [first = '', ...more] = rest;
  const verb = first.toLowerCase();
  if (verb === 'stop') return { is: 'stop' };
  if (verb === 'n' || verb === 'no')
    return more.length > 0
      ? { is: 'left-out', why: more.join(' ') }
      : { is: 'unclear', say: 'say why it was left out, so that the record is complete: n REASON' };
  if (step.newPart !== null) return ofPart(rest, lot, step.newPart.replaceAll('-', ' '), isAgain);
  if (rest.length === 0 && lot === undefined && step.when !== null) return { is: 'does-not-apply' };
  const words = verb === 'y' || verb === 'yes' ? more : rest;
  const fluid = fluidIn(words, step);
  if (/^\d+$/.test(words[0] ?? '') && fluid === undefined)
    return { is: 'unclear', say: `there is no fluid ${words[0]}: ${step.fluids.length} are named` };
  return { is: 'done', fluid: step.fluids.length === 0 && words.length === 0 ? undefined : fluid, lot };
}
