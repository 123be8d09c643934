import { instantMs } from '../../../science/instant-ms.ts';
import { compareText } from '../../../science/units/decimal-arithmetic.ts';
import { isAfter, timeText } from '../../custody/clocks.ts';
import type { CoolerFacts } from '../../custody/cooler-facts.ts';
import type { ReceiptRecord } from '../../samples/sample-records.ts';
import { firstOf } from '../first-of.ts';
import type { ReceiptFinding } from './receipt-findings.ts';
import { isOutside, RECEIPT_SENSE } from './receipt-sense.ts';

type Doubt = Pick<ReceiptFinding, 'type' | 'detail' | 'decides' | 'reading' | 'concerned'>;

/** Of one kind of reading: what a thermometer in a blank says and what one against the ice says may differ. */
function otherReadings({ id, fields }: ReceiptRecord, { receipts }: CoolerFacts): readonly string[] {
  const { temperatureC, temperatureOf } = fields;
  if (temperatureC == null) return [];
  const others = receipts.filter(
    (one) => one.id !== id && (one.fields.temperatureOf ?? null) === (temperatureOf ?? null),
  );
  const found = others.flatMap((one) => one.fields.temperatureC ?? []);
  return [...new Set(found.filter((one) => compareText(one, temperatureC) !== 0))];
}

function contradicted(receipt: ReceiptRecord, facts: CoolerFacts): readonly Doubt[] {
  const others = otherReadings(receipt, facts);
  if (others.length === 0) return [];
  const all = [...others, String(receipt.fields.temperatureC)].toSorted(compareText);
  const detail = `It is said to have come at ${all.map((one) => `${one} °C`).join(' and at ')}: say which reading stands.`;
  return [{ type: 'temperatures-differ', detail, decides: 'laboratory', reading: all.join('\n'), concerned: [] }];
}

function hot({ fields: { temperatureC } }: ReceiptRecord): readonly Doubt[] {
  if (temperatureC == null || compareText(temperatureC, RECEIPT_SENSE.doubtfulFromC) < 0) return [];
  const asC = ((Number(temperatureC) - 32) / 1.8).toFixed(1);
  const detail = `It is said to have come at ${temperatureC} °C. Was that read in °F? It would be ${asC} °C.`;
  return [{ type: 'temperature-doubtful', detail, decides: 'laboratory', reading: temperatureC, concerned: [] }];
}

function cold({ fields: { temperatureC } }: ReceiptRecord): readonly Doubt[] {
  if (temperatureC == null || compareText(temperatureC, RECEIPT_SENSE.doubtfulBelowC) >= 0) return [];
  const detail = `It is said to have come at ${temperatureC} °C, which is colder than dry ice. What was that read of?`;
  return [{ type: 'temperature-doubtful', detail, decides: 'laboratory', reading: temperatureC, concerned: [] }];
}

/** Bottles beyond the scale; one item for all of them. */
function beyondScale({ fields: { items } }: ReceiptRecord): readonly Doubt[] {
  const { from, to } = RECEIPT_SENSE.phScale;
  const its = (items ?? []).flatMap(({ label, ph }) =>
    ph != null && isOutside(ph, from, to) ? `${label}: ${ph}` : [],
  );
  if (its.length === 0) return [];
  const detail = `A pH beyond ${from} to ${to} was read: ${firstOf(its)}. Is the meter calibrated there?`;
  return [{ type: 'ph-doubtful', detail, decides: 'laboratory', reading: its.toSorted().join('\n'), concerned: [] }];
}

/** By the clock of the server when it was first said. */
function ahead({ fields: { received, observed } }: ReceiptRecord, timeZone: string | null): readonly Doubt[] {
  const entered = observed?.entered;
  if (entered == null || instantMs(received) - instantMs(entered) <= RECEIPT_SENSE.doubtfulAheadMs) return [];
  const detail = `It is said to have come ${timeText(received, timeZone)}, and was written down ${timeText(entered, timeZone)}, before that. Is the date right, and the clock?`;
  const reading = String(instantMs(received));
  return [{ type: 'received-ahead', detail, decides: 'laboratory', reading, concerned: [] }];
}

/** Of a whole cooler the count is compared with what was sent. */
function many({ fields: { containersCounted } }: ReceiptRecord): readonly Doubt[] {
  if (containersCounted == null || containersCounted <= RECEIPT_SENSE.doubtfulBottles) return [];
  const detail = `${containersCounted} bottles are said to have come, in no cooler that is named: a receipt for each cooler tells what did not come.`;
  const reading = String(containersCounted);
  return [{ type: 'count-doubtful', detail, decides: 'laboratory', reading, concerned: [] }];
}

/** By what the laboratory is told of the times; a trip blank was filled before, and elsewhere. */
function early({ fields: { received } }: ReceiptRecord, { packed, timeZone }: CoolerFacts): readonly Doubt[] {
  const late = packed.filter(
    ({ collected, isTripBlank }) => !isTripBlank && collected !== null && isAfter(collected, received),
  );
  if (late.length === 0) return [];
  const labels = late.map(({ container }) => container.fields.label);
  const detail = `It is said to have come ${timeText(received, timeZone)}, before these were collected: ${firstOf(labels)}. One of the two times is wrong.`;
  const at = String(instantMs(received));
  const concerned = late.map(({ container }) => container.id);
  return [{ type: 'received-before-collected', detail, decides: 'coordinator', reading: at, concerned }];
}

function beforeHandOver(
  { fields: { received } }: ReceiptRecord,
  { handOvers, timeZone }: CoolerFacts,
): readonly Doubt[] {
  const given = handOvers.filter(({ fields }) => fields.side === 'relinquished').map(({ fields }) => fields.at);
  const first = given.toSorted((a, b) => instantMs(a) - instantMs(b))[0];
  if (first === undefined || !isAfter(first, received)) return [];
  const detail = `It is said to have come ${timeText(received, timeZone)}, and the crew to have handed it over ${timeText(first, timeZone)}, which is later. One of the two times is wrong.`;
  const reading = `${instantMs(received)}\n${instantMs(first)}`;
  return [{ type: 'received-before-hand-over', detail, decides: 'coordinator', reading, concerned: [] }];
}

function readings(receipt: ReceiptRecord, timeZone: string | null): readonly Doubt[] {
  return [...hot(receipt), ...cold(receipt), ...beyondScale(receipt), ...ahead(receipt, timeZone)];
}

/** What is hard to believe of a receipt that names no cooler. */
export function looseDoubts(receipt: ReceiptRecord, timeZone: string | null): readonly Doubt[] {
  return [...readings(receipt, timeZone), ...many(receipt)];
}

/** What a receipt says of time and temperature that may be so and is hard to believe. */
export function receiptDoubts(receipt: ReceiptRecord, facts: CoolerFacts): readonly Doubt[] {
  const times = early(receipt, facts);
  return [
    ...contradicted(receipt, facts),
    ...readings(receipt, facts.timeZone),
    // what came before it was collected came before it was handed over: one slip, one item
    ...(times.length > 0 ? times : beforeHandOver(receipt, facts)),
  ];
}
