/** Exact arithmetic for oracles: a quotient of two whole numbers of any size, the lower one above zero. */
export interface Exact {
  readonly over: bigint;
  readonly under: bigint;
}

const known = new Map<string, Exact>();

function read(text: string): Exact {
  const [whole = '', decimals = ''] = text.split('.');
  return { over: BigInt(whole + decimals), under: 10n ** BigInt(decimals.length) };
}

/** A decimal as it is written, such as "-7.10"; what was read once is remembered. */
export function exact(text: string): Exact {
  const before = known.get(text);
  if (before) return before;
  const value = read(text);
  if (known.size > 50_000) known.clear();
  known.set(text, value);
  return value;
}

export function whole(value: number): Exact {
  return { over: BigInt(value), under: 1n };
}

export function plus(a: Exact, b: Exact): Exact {
  return { over: a.over * b.under + b.over * a.under, under: a.under * b.under };
}

export function minus(a: Exact, b: Exact): Exact {
  return plus(a, { over: -b.over, under: b.under });
}

export function times(a: Exact, b: Exact): Exact {
  return { over: a.over * b.over, under: a.under * b.under };
}

export function dividedBy(a: Exact, b: Exact): Exact {
  const turned = { over: a.over * b.under, under: a.under * b.over };
  return turned.under < 0n ? { over: -turned.over, under: -turned.under } : turned;
}

export function size(a: Exact): Exact {
  return a.over < 0n ? { over: -a.over, under: a.under } : a;
}

/** Below zero where a is the smaller, above where it is the larger. */
export function compare(a: Exact, b: Exact): number {
  const [left, right] = [a.over * b.under, b.over * a.under];
  if (left === right) return 0;
  return left < right ? -1 : 1;
}

export function largest(all: readonly Exact[]): Exact {
  return all.reduce((a, b) => (compare(a, b) < 0 ? b : a));
}

export function smallest(all: readonly Exact[]): Exact {
  return all.reduce((a, b) => (compare(a, b) > 0 ? b : a));
}

export function mean(all: readonly Exact[]): Exact {
  return dividedBy(all.reduce(plus), whole(all.length));
}

/** The nearest multiple of a step, halves away from zero. */
export function nearest(a: Exact, step: Exact): Exact {
  const { over, under } = dividedBy(size(a), step);
  const steps = (2n * over + under) / (2n * under);
  const rounded = times({ over: steps, under: 1n }, step);
  return a.over < 0n ? { over: -rounded.over, under: rounded.under } : rounded;
}

/** The least whole number that is not below it. */
export function roundedUp({ over, under }: Exact): bigint {
  return over > 0n ? (over + under - 1n) / under : -(-over / under);
}
