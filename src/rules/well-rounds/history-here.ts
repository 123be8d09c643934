import { z } from 'zod';
import { decimal, id, instant, text } from '../../protocol/primitives.ts';
import { TREND_SIDES } from '../../science/history/mann-kendall.ts';
import { median } from '../../science/history/median.ts';
import { decimalText, millionths } from '../millionths.ts';
import { wellTrend } from '../questions/well-trend.ts';
import type { LAST_VALUES } from '../well-history/last-round-summary.ts';
import { convertedText, isDepth, leftOut, type RoundToday, roundsToday } from './depths-of-round.ts';
import { todayFields } from './last-round-here.ts';
import type { WellRecords } from './well-records.ts';

/** What a summary has a figure of that is worth a history, with its unit. */
export const HISTORY_UNITS = {
  depthToWaterFt: 'ft',
  depthToBottomFt: 'ft',
  temperatureC: '°C',
  ph: 'pH',
  specificConductanceUsPerCm: 'µS/cm',
  dissolvedOxygenMgPerL: 'mg/L',
  orpMv: 'mV',
  turbidityNtu: 'NTU',
  turbidityFnu: 'FNU',
} as const satisfies Readonly<Record<'depthToWaterFt' | 'depthToBottomFt' | (typeof LAST_VALUES)[number], string>>;
export type HistoryOf = keyof typeof HISTORY_UNITS;

const quantityOf = z.enum(Object.keys(HISTORY_UNITS) as [HistoryOf, ...HistoryOf[]]);

export const historyInput = z.strictObject({
  quantity: quantityOf.default('depthToWaterFt'),
  side: z.enum(TREND_SIDES).optional().describe('What is asked for; two-sided where not given'),
  significancePercent: decimal.optional().describe('5 where not given'),
  ...todayFields,
});
export type HistoryGiven = z.output<typeof historyInput> & { readonly at: string };

export const historyHereOutput = z.strictObject({
  quantity: quantityOf,
  unit: text(16),
  rounds: z
    .array(z.strictObject({ visit: id, event: id, eventName: text(), arrived: instant, amount: z.string() }))
    .describe('Earliest first, one a day; depths below the measuring point of today'),
  least: z.string().nullable(),
  median: z.string().nullable(),
  most: z.string().nullable(),
  trend: wellTrend.output.describe('Whether it rises or falls, or why that cannot be told'),
  notes: z.array(z.string()),
  leftOut: z.array(leftOut).describe('Depths that cannot be told below the measuring point of today'),
});
export type HistoryHere = z.output<typeof historyHereOutput>;
type Round = HistoryHere['rounds'][number];

function roundOf({ round }: RoundToday, quantity: HistoryOf): Round[] {
  const amount = round[quantity];
  const { visit, event, eventName, arrived } = round;
  return amount === undefined ? [] : [{ visit, event, eventName, arrived, amount }];
}

/** Of several visits of one day the last one counts: within a day there is no trend. */
function oneEachDay(newestFirst: readonly Round[]): readonly Round[] {
  const days = new Set<string>();
  return newestFirst.filter(({ arrived }) => {
    const day = arrived.slice(0, 10);
    const fresh = !days.has(day);
    days.add(day);
    return fresh;
  });
}

function spreadOf(rounds: readonly Round[]): Pick<HistoryHere, 'least' | 'median' | 'most'> {
  if (rounds.length === 0) return { least: null, median: null, most: null };
  const values = rounds.map(({ amount }) => millionths(amount));
  const [least, most] = [Math.min(...values), Math.max(...values)];
  return { least: decimalText(least), median: decimalText(median(values)), most: decimalText(most) };
}

function notesOf(quantity: HistoryOf, all: readonly Round[], kept: readonly Round[]): string[] {
  const dropped = all.length - kept.length;
  return [
    ...(dropped === 0 ? [] : [`${dropped} visit(s) are left out, for a later one of the same day counts.`]),
    ...(quantity === 'depthToWaterFt' ? ['A depth that rises is a water level that falls.'] : []),
  ];
}

/** What the stored rounds of a well gave of one quantity, and whether it rises or falls. */
export function historyHere(records: WellRecords, given: HistoryGiven): HistoryHere {
  const { quantity, side, significancePercent, exceptEvent } = given;
  const unit = HISTORY_UNITS[quantity];
  const today = roundsToday(records, given).filter(({ round }) => round.event !== exceptEvent);
  const all = today.flatMap((one) => roundOf(one, quantity));
  const rounds = [...oneEachDay(all)].reverse();
  const trend = wellTrend.answer({
    unit,
    scale: 'raw',
    side,
    significancePercent,
    rounds: rounds.map(({ arrived, amount }) => ({ at: arrived, amount })),
  });
  return {
    quantity,
    unit,
    rounds,
    ...spreadOf(rounds),
    trend,
    notes: [...notesOf(quantity, all, rounds), ...(isDepth(quantity) ? convertedText(today) : [])],
    leftOut: today.flatMap((one) => one.leftOut.filter(({ field }) => field === quantity)),
  };
}
