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

interface Typed {
  /** In front of the first name=. */
  readonly words: readonly string[];
  readonly fluid: string | undefined;
  readonly lot: string | undefined;
  readonly part: string | undefined;
}

/** fluid=distilled water lot=L-7 among other words: the words behind a name are its own up to the next. */
function typedIn(line: string): Typed {
  const [words = '', ...named] = ` ${line.trim()}`.split(/\s+(?=(?:fluid|lot|part)=)/i);
  const value = (name: string) =>
    named
      .find((one) => one.toLowerCase().startsWith(`${name}=`))
      ?.slice(name.length + 1)
      .trim() || undefined;
  const split = words.split(/\s+/).filter(Boolean);
  return { words: split, fluid: value('fluid'), lot: value('lot'), part: value('part') };
}

const YES = ['y', 'yes', 'done'];

/** What may stand there, word by word. */
function mayStand({ newPart, when, fluids }: StepToDo): string {
  if (newPart !== null)
    return `what is written on the new ${newPart.replaceAll('-', ' ')} (or part=.., lot=..); n REASON: left out; stop: go on later`;
  const done = when === null ? 'Enter or y: done' : 'Enter: not needed here; y: done';
  const which = fluids.length > 0 ? `; ${fluids.join(' or ')}: done with it; fluid=..: done with another; lot=..` : '';
  return `${done}${which}; n REASON: left out; stop: go on later`;
}

/** A word that is no name of a part: a label has a figure in it as a rule, or it is typed once more. */
function isSlip(label: string, before: string | undefined): boolean {
  return !/\d/.test(label) && before?.trim().toLowerCase() !== label.toLowerCase();
}

function ofPart({ words, lot, part }: Typed, step: StepToDo, before: string | undefined): StepAnswer {
  const newPart = step.newPart?.replaceAll('-', ' ') ?? 'part';
  const rest = YES.includes(words[0]?.toLowerCase() ?? '') ? words.slice(1) : words;
  const label = part ?? (rest.join(' ') || undefined);
  if (label === undefined && lot === undefined && before === undefined)
    return {
      is: 'unclear',
      say: `which new ${newPart}? What is written on it or lot=..; Enter again: put in, and nobody knows which; n and why, if none`,
    };
  if (label !== undefined && part === undefined && isSlip(label, before))
    return {
      is: 'unclear',
      say: `is "${label}" written on the new ${newPart}? Then once more, or part=${label}. Here may stand: ${mayStand(step)}`,
    };
  return { is: 'done', part: label, lot };
}

/** A number or the name of a fluid that the step offers; null where the words are neither. */
function offered(words: readonly string[], { fluids }: StepToDo): string | null {
  const given = words.join(' ').toLowerCase();
  if (/^\d+$/.test(given)) return fluids[Number(given) - 1] ?? null;
  return fluids.find((fluid) => fluid.toLowerCase() === given) ?? null;
}

function ofFluid({ words, fluid, lot }: Typed, step: StepToDo): StepAnswer {
  const isYes = YES.includes(words[0]?.toLowerCase() ?? '');
  const rest = isYes ? words.slice(1) : words;
  if (words.length === 0 && fluid === undefined && lot === undefined && step.when !== null)
    return { is: 'does-not-apply' };
  if (rest.length === 0) return { is: 'done', fluid: fluid ?? step.fluids[0], lot };
  const named = offered(rest, step);
  if (named !== null && fluid === undefined) return { is: 'done', fluid: named, lot };
  if (/^\d+$/.test(rest.join('')))
    return { is: 'unclear', say: `there is no fluid ${rest.join(' ')}: ${step.fluids.length} are named` };
  return { is: 'unclear', say: `"${rest.join(' ')}" says nothing here. ${mayStand(step)}` };
}

/**
 * Reads the line that answers a step. Nothing typed: done as asked; of what is due only at times: it does not apply. A word
 * that may not stand there is asked about: it must not make a step done, or become the name of what it was done with.
 *
 * @param before what was typed at this step before: a new part that nobody can name was put in all the same
 */
export function stepAnswer(line: string, step: StepToDo, before?: string): StepAnswer {
  const typed = typedIn(line);
  const [verb = '', ...more] = typed.words.map((one, at) => (at === 0 ? one.toLowerCase() : one));
  if (verb === 'stop' && more.length === 0) return { is: 'stop' };
  if (verb === 'help' || verb === '?') return { is: 'unclear', say: mayStand(step) };
  if (verb === 'n' || verb === 'no') {
    const why = line.trim().split(/\s+/).slice(1).join(' ');
    if (why !== '') return { is: 'left-out', why };
    return { is: 'unclear', say: 'say why it was left out, so that the record is complete: n REASON' };
  }
  return step.newPart === null ? ofFluid(typed, step) : ofPart(typed, step, before);
}
