import { fieldWords } from '../../protocol/field-words.ts';
import { CrewError } from './crew-error.ts';

export interface Pairs {
  /** The words that are no pairs, in order. */
  readonly words: readonly string[];
  readonly pair: (name: string) => string | undefined;
}

const said = (value: unknown) => (value === null || value === '' ? 'nothing' : String(value));

/** The second of two values would count without a word, and nobody knows which one was meant. */
function mustBeNew(known: ReadonlyMap<string, unknown>, name: string, value: unknown): void {
  const before = known.get(name);
  if (before === undefined) return;
  const both = `${fieldWords(name)} is given twice, ${said(before)} and ${said(value)}`;
  throw new CrewError(`${both}: nothing is recorded; give the one that is meant`);
}

/** Each name once, whichever of its spellings was typed. */
export function onceEach<Value>(pairs: readonly (readonly [string, Value])[]) {
  const found = new Map<string, Value>();
  for (const [name, value] of pairs) {
    mustBeNew(found, name, value);
    found.set(name, value);
  }
  return Object.fromEntries(found);
}

/**
 * Tells name=value apart from plain words; a name that means nothing here is said, not passed over.
 *
 * @param labels those whose value is a name of several words, "cell=Flow cell 1": the words behind it belong to it
 */
export function pairsIn(given: readonly string[], names: readonly string[], labels: readonly string[] = []): Pairs {
  const pairs = new Map<string, string>();
  const words: string[] = [];
  let label: string | null = null;
  for (const one of given) {
    const sign = one.indexOf('=');
    const name = one.slice(0, Math.max(sign, 0));
    if (sign < 1 && label === null) words.push(one);
    else if (sign < 1) pairs.set(label ?? '', `${pairs.get(label ?? '')} ${one}`);
    else if (names.includes(name)) {
      mustBeNew(pairs, name, one.slice(sign + 1));
      pairs.set(name, one.slice(sign + 1));
      label = labels.includes(name) ? name : null;
    } else throw new CrewError(`"${one}" means nothing here: ${names.join('=, ')}= may stand there`);
  }
  return { words, pair: (name) => pairs.get(name) };
}
