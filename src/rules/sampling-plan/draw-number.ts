/** A number from 0 up to 1, evenly spread, that nobody can foresee. */
export type Chance = () => number;

/** `2605-48213`: year and month of the event, and digits that say nothing. */
const FORM = /^(\d{4})-(\d{5,9})$/;
const LEAST_DIGITS = 5;
/** Beyond this share of all numbers taken, a digit is added: drawing stays quick. Own choice, no source. */
const CROWDED = 0.1;

export interface NumberSpace {
  readonly prefix: string;
  readonly digits: number;
}

/** As the numbers are that were given already; at first by the date on which the event starts. */
export function numberSpace(starts: string, given: ReadonlySet<string>, more: number): NumberSpace {
  const own = [...given].map((number) => FORM.exec(number)).filter((found) => found !== null);
  const [first] = own.toSorted((a, b) => (a[0] < b[0] ? -1 : 1));
  const prefix = first?.[1] ?? `${starts.slice(2, 4)}${starts.slice(5, 7)}`;
  let digits = Math.max(LEAST_DIGITS, ...own.map((found) => found[2]?.length ?? 0));
  while (given.size + more > CROWDED * 9 * 10 ** (digits - 1)) digits += 1;
  return { prefix, digits };
}

/**
 * Gives numbers that nobody was given. Every sample and blank draws from the same space by the same chance, and no two
 * numbers are neighbours, so that neither the value, the place nor the distance of a number says what it is of.
 *
 * Source: a blind duplicate looks like any other sample, Hawaii Department of Health, Technical Guidance Manual, 10.6.
 *
 * @param given all numbers there ever were in the event
 */
export function numberDrawer(
  { prefix, digits }: NumberSpace,
  given: ReadonlySet<string>,
  chance: Chance,
): () => string {
  const least = 10 ** (digits - 1);
  const taken = new Set(given);
  const text = (value: number) => `${prefix}-${value}`;
  const isFree = (value: number) => [value - 1, value, value + 1].every((one) => !taken.has(text(one)));
  return () => {
    let value = least + Math.floor(chance() * 9 * least);
    // a chance that always says the same would otherwise never end
    for (let tries = 0; !isFree(value); tries += 1) {
      value = tries < 100 ? least + Math.floor(chance() * 9 * least) : least + ((value - least + 1) % (9 * least));
    }
    taken.add(text(value));
    return text(value);
  };
}
