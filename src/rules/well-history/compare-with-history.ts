import { MODIFIED_Z_LIMIT, modifiedZ, robustCentre } from '../../science/history/modified-z.ts';
import { beyondFences, tukeyFences } from '../../science/history/tukey-fences.ts';
import { isRefusal } from '../../science/refusal.ts';
import { decimalText, millionths } from '../millionths.ts';
import type { HistoryQuantity } from './history-quantities.ts';

/**
 * Earlier rounds that are needed before anything is asked. With fewer the middle and the spread are too uncertain: of
 * values that are all of one normal kind, 1 in 20 would be asked about with 5 or 6 rounds and 1 in 40 with 8 (simulated,
 * see the test), and the least differences take most of those away. A crew that compares 30 values a day can live with
 * that; with four rounds not even the clearest trend reaches p < 0.05 two-sided, so that no one could say whether the
 * well had moved. Eight is also where the Unified Guidance 2009 begins to call a background sufficient (from memory).
 */
export const LEAST_ROUNDS = 8;

export interface HistoryComparison {
  readonly field: HistoryQuantity['field'];
  readonly finding: 'like' | 'unlike' | 'too-few-rounds';
  readonly earlierRounds: number;
  readonly sentence: string;
  /** What to look at now; empty where there is nothing to ask. */
  readonly checks: readonly string[];
}

/**
 * Far by all three: outside what was ever measured, by a difference that matters, and by both robust measures. Where the
 * MAD is 0, for most rounds gave the same figure, the difference that matters decides alone.
 *
 * @param now and the values in millionths of the unit, which makes them exact
 */
export function standsApart(quantity: HistoryQuantity, now: number, values: readonly number[]): boolean {
  if (now >= Math.min(...values) && now <= Math.max(...values)) return false;
  const centre = robustCentre(values);
  const fences = tukeyFences(values, 'median-unbiased', 1.5);
  if (isRefusal(centre) || isRefusal(fences)) return false;
  if (Math.abs(now - centre.median) <= quantity.leastDifference(centre.median)) return false;
  const z = modifiedZ(centre, now);
  return beyondFences(fences, now) && (isRefusal(z) || Math.abs(z) > MODIFIED_Z_LIMIT);
}

function slips({ slips: known }: HistoryQuantity, now: number, least: number, most: number): string[] {
  return known.filter(({ factor }) => now * factor >= least && now * factor <= most).map(({ sentence }) => sentence);
}

/**
 * Whether what was just measured is unlike this well: a question for the people who still stand at it, never a reason to
 * refuse or to change a value. Robust, so that one bad round among the earlier ones neither hides nor raises anything.
 *
 * Source: modified z, Iglewicz & Hoaglin 1993, limit 3.5; Tukey's fences at 1.5 with median-unbiased quartiles (Hyndman &
 * Fan 1996, type 8).
 *
 * @param now decimal string in the unit of the quantity
 * @param earlier one value a round, in any order, from one measuring point
 */
export function compareWithHistory(
  quantity: HistoryQuantity,
  now: string,
  earlier: readonly string[],
): HistoryComparison {
  const { field, name, unit } = quantity;
  const own = { field, earlierRounds: earlier.length };
  const said = `${name} ${now} ${unit}`;
  if (earlier.length < LEAST_ROUNDS) {
    const sentence = `${said} is not compared: ${earlier.length} earlier round(s) are known, and below ${LEAST_ROUNDS} an odd value cannot be told from an ordinary one.`;
    return { ...own, finding: 'too-few-rounds', sentence, checks: [] };
  }
  const values = earlier.map(millionths);
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const range = `${earlier.length} earlier rounds gave ${decimalText(least)} to ${decimalText(most)} ${unit}`;
  if (!standsApart(quantity, millionths(now), values))
    return { ...own, finding: 'like', sentence: `${said} is like this well: ${range}.`, checks: [] };
  const checks = [quantity.check, ...slips(quantity, millionths(now), least, most)];
  return { ...own, finding: 'unlike', sentence: `${said} is unlike this well: ${range}.`, checks };
}
