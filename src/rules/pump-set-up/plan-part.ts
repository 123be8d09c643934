import { isRefusal, type Refusal } from '../../science/refusal.ts';

/** One part of a plan: its figures, and what it has to say. */
export interface PlanPart<Fields> {
  readonly fields: Fields;
  readonly reasons: readonly string[];
  readonly cautions: readonly string[];
  /** What was not computed, and what is needed for it. */
  readonly missing: readonly string[];
}

export function planPart<Fields>(
  fields: Fields,
  said: Partial<Omit<PlanPart<Fields>, 'fields'>> = {},
): PlanPart<Fields> {
  return { fields, reasons: [], cautions: [], missing: [], ...said };
}

/** What of the values given is not there, by name; undefined where all are. */
export function withoutThese(what: string, needed: Readonly<Record<string, unknown>>): string | undefined {
  const absent = Object.entries(needed).flatMap(([name, value]) =>
    value === undefined || value === null ? [name] : [],
  );
  return absent.length === 0 ? undefined : `${what}: give ${absent.join(', ')}.`;
}

/** A result, or null with its refusal said. */
export function resultOr<T>(result: T | Refusal): { readonly value: T | null; readonly missing: readonly string[] } {
  return isRefusal(result) ? { value: null, missing: [result.refused] } : { value: result, missing: [] };
}
