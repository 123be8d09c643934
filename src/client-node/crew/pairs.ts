import { CrewError } from './crew-error.ts';

export interface Pairs {
  /** The words that are no pairs, in order. */
  readonly words: readonly string[];
  readonly pair: (name: string) => string | undefined;
}

/** Tells name=value apart from plain words; a name that means nothing here is said, not passed over. */
export function pairsIn(given: readonly string[], names: readonly string[]): Pairs {
  const pairs = new Map<string, string>();
  const words: string[] = [];
  for (const one of given) {
    const sign = one.indexOf('=');
    const name = one.slice(0, Math.max(sign, 0));
    if (sign < 1) words.push(one);
    else if (names.includes(name)) pairs.set(name, one.slice(sign + 1));
    else throw new CrewError(`"${one}" means nothing here: ${names.join('=, ')}= may stand there`);
  }
  return { words, pair: (name) => pairs.get(name) };
}
