import { CrewError } from './crew-error.ts';

export interface Pairs {
  /** The words that are no pairs, in order. */
  readonly words: readonly string[];
  readonly pair: (name: string) => string | undefined;
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
      pairs.set(name, one.slice(sign + 1));
      label = labels.includes(name) ? name : null;
    } else throw new CrewError(`"${one}" means nothing here: ${names.join('=, ')}= may stand there`);
  }
  return { words, pair: (name) => pairs.get(name) };
}
