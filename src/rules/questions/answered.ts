import { z } from 'zod';
import type { Figure } from '../../catalog/criteria-set.ts';
import type { Refusal } from '../../science/refusal.ts';

/** What stands at the end of every caution. */
export const DEFERS = 'The site safety plan, local codes and licensed practice decide.';

/** A computed figure as a decimal string, or any other text; null where the question could not be answered. */
export function figure(description: string) {
  return z.string().nullable().describe(description);
}

/** The part of an answer that was given: reasons, cautions, sources. */
export function answered(
  reasons: readonly string[],
  sources: readonly string[],
  cautions: readonly string[] = [],
): { refused: null; reasons: string[]; cautions: string[]; sources: string[] } {
  return { refused: null, reasons: [...reasons], cautions: [...cautions], sources: [...sources] };
}

/** The same part of an answer that was refused; its figures are null. */
export function unanswered(
  { refused }: Refusal,
  sources: readonly string[],
): { refused: string; reasons: string[]; cautions: string[]; sources: string[] } {
  return { refused, reasons: [], cautions: [], sources: [...sources] };
}

/** A figure of the catalog as a source: "2 (US EPA ..., from memory, high confidence)". */
export function figureSource({ value, source, status }: Figure): string {
  return `${value}: ${source ?? 'no source'} (${status})`;
}
