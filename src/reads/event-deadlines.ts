import { z } from 'zod';
import { recordId } from '../rules/equipment-told/told-fields.ts';
import { hasPast } from '../rules/samples/deadlines/container-clocks.ts';
import { deadlinesAsked, deadlineTold, toldDeadline } from '../rules/samples/deadlines/deadlines-told.ts';
import { clocksAsked, eventClocks } from '../rules/samples/deadlines/event-clocks.ts';
import { isTemperatureBlank } from '../rules/samples/temperature-blank.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { loadEventSamples } from './event-samples.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';
import { toldPage, toldPageInput } from './told-page.ts';

export const deadlinesInput = z.strictObject({ ...deadlinesAsked, ...toldPageInput.shape });
export type DeadlinesGiven = z.output<typeof deadlinesInput>;

const count = z.int().min(0);

export const deadlinesOutput = z.strictObject({
  event: recordId('event'),
  at: z.string().describe('As of when'),
  timeZone: z.string().describe('Of the site, by whose clocks the sentences tell'),
  containers: count.describe('That were asked about, in all parts'),
  past: count.describe('Of them, those with a clock that ran out'),
  withoutClock: count.describe('Of them, those of which no clock is known, temperature blanks apart'),
  items: z.array(deadlineTold).describe('The tightest first; what has no clock that runs comes last'),
  next: z.string().nullable().describe('For `cursor`: the next part'),
});
export type DeadlinesTold = z.output<typeof deadlinesOutput>;

/**
 * The clocks of the containers of an event, the tightest first.
 *
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing` for an event that is not there or that the reader does not see
 */
export async function eventDeadlines(
  tx: ReadTx,
  feeds: readonly string[] | null,
  event: string,
  given: DeadlinesGiven & { readonly now: string },
): Promise<DeadlinesTold> {
  const samples = await loadEventSamples(tx, feeds, event);
  const at = given.at ?? given.now;
  const timeZone = samples.site?.fields.timeZone ?? 'UTC';
  const asked = clocksAsked(eventClocks(samples), { ...given, at });
  const page = toldPage(`deadlines of ${event}`, asked, ({ container }) => container.id, given);
  return {
    event,
    at,
    timeZone,
    containers: asked.length,
    past: asked.filter((one) => hasPast(one, at)).length,
    withoutClock: asked.filter(({ clocks, holder }) => clocks.length === 0 && !isTemperatureBlank(holder)).length,
    // sentences are made of what is told, and not of thousands that are not
    items: page.items.map((one) => toldDeadline(one, at, timeZone, given.now)),
    next: page.next,
  };
}

export function readEventDeadlines(
  { pool }: Pick<ReadContext, 'pool'>,
  reader: Reader,
  event: string,
  given: DeadlinesGiven & { readonly now: string },
): Promise<DeadlinesTold> {
  return inRead(pool, reader.firm, async (tx) => eventDeadlines(tx, await feedsInSight(tx, reader), event, given));
}
