import type { ConflictChoice, OpenConflict } from '../../client/conflicts.ts';
import { CrewError } from './crew-error.ts';

function isVoid({ record }: Pick<OpenConflict, 'record'>): boolean {
  return record?.fields.type === 'void';
}

/** A value as a crew reads it and may type it: of a void, whether the record counts. */
export function valueWords(conflict: Pick<OpenConflict, 'record'>, value: unknown): string {
  if (isVoid(conflict)) return value === true ? 'does not count' : 'counts';
  return typeof value === 'string' ? value : JSON.stringify(value);
}

/** Several people may have given one value. */
function sameWords(conflict: OpenConflict, given: string): ConflictChoice | undefined {
  return conflict.choices.find(({ value }) => valueWords(conflict, value) === given.trim());
}

/** By its number in the list, or as it stands there; where a number could mean both, it is asked. */
export function chosenValue(conflict: OpenConflict, given: string): unknown {
  const counted = /^\d+$/.test(given) ? conflict.choices[Number(given) - 1] : undefined;
  const worded = sameWords(conflict, given);
  const chosen = counted ?? worded;
  if (chosen === undefined) {
    throw new CrewError(
      `there is no value ${given}: crew conflicts lists them; what none of them says is said with --neither VALUE`,
    );
  }
  if (counted && worded && valueWords(conflict, counted.value) !== valueWords(conflict, worded.value)) {
    throw new CrewError(
      `"${given}" is one of the values, and the number of another: give number ${conflict.choices.indexOf(worded) + 1} for it`,
    );
  }
  return chosen.value;
}

/** In the form of the values given: a text as it was typed, anything else as JSON. */
function inFormOf(choices: readonly ConflictChoice[], given: string): unknown {
  const example = choices.map(({ value }) => value).find((value) => value !== null && value !== undefined);
  if (example === undefined || typeof example === 'string') return given;
  try {
    return JSON.parse(given);
  } catch {
    throw new CrewError(`"${given}" is not of the form of the values given, such as ${JSON.stringify(example)}`);
  }
}

/** A value that nobody gave: the server takes it with a reason only. */
export function neitherValue(conflict: OpenConflict, given: string, reason: string | undefined): unknown {
  if (isVoid(conflict)) throw new CrewError('it counts or it does not: crew conflicts lists both, by number');
  if (sameWords(conflict, given)) throw new CrewError(`${given} is one of the values given: say it without --neither`);
  if (reason === undefined || reason.trim() === '')
    throw new CrewError('a value that nobody gave takes a reason: --reason "..."');
  return inFormOf(conflict.choices, given);
}
