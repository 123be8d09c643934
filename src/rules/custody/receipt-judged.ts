import type { PhRule } from '../../catalog/analytes/analyte-group.ts';
import { compareText } from '../../science/units/decimal-arithmetic.ts';
import { unreadable } from '../../science/units/unreadable.ts';
import { missingThatCame } from '../samples/receipt-words.ts';
import type { ReceiptRecord } from '../samples/sample-records.ts';
import { isCollectedOn, type JudgedCold, judgeCold } from './cold.ts';
import type { CoolerFacts, Packed } from './cooler-facts.ts';
import type { ReceiptItem } from './custody-records.ts';
import { type Unlabelled, unlabelledBottles } from './unlabelled.ts';

/** A container of which the receipt says something of its own. */
export interface JudgedItem {
  readonly packed: Packed;
  readonly item: ReceiptItem;
  /** The pH that its preservative is to give, where what was read is another. */
  readonly wrongPh: PhRule | null;
}

/** What a receipt says of the containers of its cooler, one by one. */
export interface ReceiptJudged {
  readonly receipt: ReceiptRecord;
  readonly isTemperatureRecorded: boolean;
  /** Of each container that is to have water in it and came, as far as the receipt says. */
  readonly cold: readonly JudgedCold[];
  /** How many were packed, and are to have water in them. */
  readonly expected: number;
  readonly counted: number | null;
  readonly items: readonly JudgedItem[];
  /** What this one says did not come, by which its count is judged. */
  readonly saidMissing: readonly Packed[];
  /** What of it no other receipt of the cooler says came: one may be read in two goes. */
  readonly missing: readonly Packed[];
  /** Labels that are of no container of this cooler. */
  readonly extra: readonly ReceiptItem[];
  readonly unlabelled: readonly Unlabelled[];
}

/** What was discarded or dropped is no bottle; what is only expected may have been filled without a word. */
export function isToCome({ container: { fields } }: Packed): boolean {
  return fields.standing === 'filled' || fields.standing === 'expected';
}

function isOutside(ph: string, { below, above, from, to }: PhRule): boolean {
  return (
    (below !== undefined && compareText(ph, below) >= 0) ||
    (above !== undefined && compareText(ph, above) <= 0) ||
    (from !== undefined && compareText(ph, from) < 0) ||
    (to !== undefined && compareText(ph, to) > 0)
  );
}

/** Where nothing was put in on purpose, nobody asks for the pH that a preservative would give. */
function wrongPhOf({ container, groups }: Packed, { ph }: ReceiptItem): PhRule | null {
  if (ph == null || unreadable({ pH: ph }) !== undefined) return null;
  const isBare = container.fields.preservatives?.length === 0;
  const rules = groups.flatMap(({ preservation }) =>
    preservation.ph && !(isBare && preservation.anyOf.length > 0) ? [preservation.ph] : [],
  );
  return rules.find((rule) => isOutside(ph, rule)) ?? null;
}

function coldOf(
  receipt: ReceiptRecord,
  packed: readonly Packed[],
  items: ReadonlyMap<string, ReceiptItem>,
  { timeZone, cooler }: CoolerFacts,
): readonly JudgedCold[] {
  const { received, temperatureC = null, ice } = receipt.fields;
  const hadIce = ice ?? cooler.fields.ice != null;
  return packed.map((one) => {
    const own = items.get(one.container.fields.label)?.temperatureC;
    const isSameDayOnIce = hadIce && isCollectedOn(one, received, timeZone);
    return judgeCold(one, { readingC: own ?? temperatureC, at: received, isSameDayOnIce });
  });
}

/** Judges a receipt container by container; nothing is decided where it may be read in two ways. */
export function receiptJudged(receipt: ReceiptRecord, facts: CoolerFacts): ReceiptJudged {
  const all = receipt.fields.items ?? [];
  const byLabel = new Map(all.map((item) => [item.label, item]));
  const { packed } = facts;
  const labels = new Set(packed.map(({ container }) => container.fields.label));
  const toCome = packed.filter(isToCome);
  const isMissing = ({ container }: Packed) => byLabel.get(container.fields.label)?.condition === 'missing';
  const came = toCome.filter((one) => !isMissing(one));
  const items = packed.flatMap((one): JudgedItem[] => {
    const item = byLabel.get(one.container.fields.label);
    return item ? [{ packed: one, item, wrongPh: wrongPhOf(one, item) }] : [];
  });
  const saidMissing = packed.filter(isMissing);
  const cameSince = missingThatCame(receipt, facts.receipts);
  const missing = saidMissing.filter(({ container }) => !cameSince.has(container.fields.label));
  const { containersCounted, temperatureC } = receipt.fields;
  return {
    receipt,
    isTemperatureRecorded: temperatureC != null || all.some((item) => item.temperatureC != null),
    // nothing in a temperature blank can spoil
    cold: coldOf(
      receipt,
      came.filter((one) => !one.isTemperatureBlank),
      byLabel,
      facts,
    ),
    expected: toCome.length,
    counted: containersCounted ?? null,
    items,
    saidMissing,
    missing,
    extra: all.filter(
      ({ label, condition }) => condition !== 'no-label' && condition !== 'missing' && !labels.has(label),
    ),
    unlabelled: unlabelledBottles(all, toCome, missing),
  };
}
