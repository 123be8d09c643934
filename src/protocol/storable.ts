const NUL = '\0';

/** JSON has values that parse but that neither a database nor a hash can take: in a text, a name or a number. */
export function isStorable(value: unknown): boolean {
  if (typeof value === 'string') return !value.includes(NUL) && value.isWellFormed();
  if (typeof value === 'number') return Number.isFinite(value);
  if (Array.isArray(value)) return value.every(isStorable);
  if (typeof value !== 'object' || value === null) return true;
  return Object.entries(value).every(([name, inner]) => isStorable(name) && isStorable(inner));
}

const TEXTS = /"(?:[^"\\]|\\.)*"/g;
const NUMBERS = /-?\d[\d.eE+-]*/g;

/** Whether every number of a JSON text is given back sign for sign once it was parsed: 7.10 and 2^53 + 1 are not. */
export function keepsItsNumbers(json: string): boolean {
  const numbers = json.replaceAll(TEXTS, '""').match(NUMBERS) ?? [];
  return numbers.every((number) => String(Number(number)) === number);
}
