import { allFeeds, feedsOfDevices } from '../../store/read/followed-feeds.ts';
import { standingTokens } from '../../store/read/standing-tokens.ts';
import type { ReadTx } from '../../store/read/transaction.ts';
import { seesAll } from '../feeds-in-sight.ts';
import type { Reader } from '../reader.ts';

/** Where feeds end, by their name. */
export type FeedTails = ReadonlyMap<string, number>;

/** What those who follow feeds of a firm may follow, all from one snapshot. */
export interface Look {
  /** @returns null for a reader whose token was revoked or has expired */
  of(reader: Reader): FeedTails | null;
}

const NOTHING: FeedTails = new Map();

/** Looks once for all readers of a firm: as many statements for a thousand of them as for one. */
export async function lookFor(tx: ReadTx, readers: readonly Reader[], now: string): Promise<Look> {
  const devices = new Set(readers.filter(({ role }) => role === 'crew').map(({ device }) => device));
  const office = readers.some(seesAll);
  const [standing, ofCrews, all] = await Promise.all([
    standingTokens(tx, [...new Set(readers.map(({ token }) => token))], now),
    devices.size > 0 ? feedsOfDevices(tx, [...devices]) : [],
    office ? allFeeds(tx) : [],
  ]);
  const ofFirm = new Map(all.map(({ feed, tail }) => [feed, tail]));
  const byDevice = new Map<string | null, Map<string, number>>([...devices].map((device) => [device, new Map()]));
  for (const { device, feed, tail } of ofCrews) byDevice.get(device)?.set(feed, tail);
  return {
    of({ token, role, device }) {
      if (!standing.has(token)) return null;
      if (seesAll({ role })) return ofFirm;
      return role === 'crew' ? (byDevice.get(device) ?? NOTHING) : NOTHING;
    },
  };
}
