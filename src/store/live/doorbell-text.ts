import { z } from 'zod';

/** The one channel of the database on which processes tell each other that feeds have gone on. */
export const LIVE_CHANNEL = 'wellround_live';

/** Where feeds of a firm end now; null: that may be elsewhere than before, and nobody knows where. */
export type Tails = ReadonlyMap<string, number> | null;

/** PostgreSQL takes less than 8,000 bytes in a notification. */
const MOST_BYTES = 7_500;
/** Beyond so many feeds of a firm, whoever hears of it looks for itself. */
const MOST_FEEDS = 2_000;

const rung = z.strictObject({
  firm: z.guid(),
  tails: z.record(z.string(), z.int().min(0)).optional(),
});

function text(firm: string, entries: readonly string[] | null): string {
  return entries === null ? `{"firm":"${firm}"}` : `{"firm":"${firm}","tails":{${entries.join(',')}}}`;
}

function textsOf(firm: string, tails: Tails): string[] {
  if (tails === null || tails.size > MOST_FEEDS) return [text(firm, null)];
  const texts: string[] = [];
  let entries: string[] = [];
  let bytes = Buffer.byteLength(text(firm, []));
  for (const [feed, tail] of tails) {
    const entry = `${JSON.stringify(feed)}:${tail}`;
    const size = Buffer.byteLength(entry) + 1;
    if (bytes + size > MOST_BYTES) {
      texts.push(text(firm, entries));
      bytes = Buffer.byteLength(text(firm, []));
      entries = [];
    }
    entries.push(entry);
    bytes += size;
  }
  return [...texts, text(firm, entries)];
}

/** What is said of all feeds that have gone on, in as few notifications as hold it. */
export function doorbellTexts(dirty: ReadonlyMap<string, Tails>): string[] {
  return [...dirty].flatMap(([firm, tails]) => (tails?.size === 0 ? [] : textsOf(firm, tails)));
}

/** What a notification says. */
export interface DoorbellSound {
  readonly firm: string;
  readonly tails: Tails;
}

/** @returns null for what is not of ours: anyone who may connect to a database may notify in it */
export function readDoorbell(payload: string): DoorbellSound | null {
  let given: unknown;
  try {
    given = JSON.parse(payload);
  } catch {
    return null;
  }
  const { success, data } = rung.safeParse(given);
  if (!success) return null;
  return { firm: data.firm, tails: data.tails ? new Map(Object.entries(data.tails)) : null };
}
