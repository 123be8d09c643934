import { canonicalText } from '../../src/protocol/content-hash.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { FIRM } from './base-firm.ts';
import type { ModelServer } from './model/server.ts';
import type { SimPhone } from './sim-phone.ts';
import type { Findings } from './violation.ts';
import type { Watch } from './watch.ts';

/** The texts of the live records of each feed, as its ledger alone tells them. */
export function feedsInLedger(server: ModelServer): Map<string, Map<string, string>> {
  const feeds = new Map<string, Map<string, string>>();
  const rows = [...server.tables.ledger.values()].sort((a, b) => a.seq - b.seq);
  for (const { feed, record, state } of rows) {
    const live = feeds.get(feed) ?? new Map<string, string>();
    feeds.set(feed, live);
    if (state === null) live.delete(record);
    else live.set(record, state);
  }
  return feeds;
}

/** Every phone holds the feeds that it follows, each byte for byte as the ledger has it. */
export function checkReplicas(
  server: ModelServer,
  phones: readonly SimPhone[],
  watch: Watch,
  findings: Findings,
): void {
  const ledger = feedsInLedger(server);
  for (const phone of phones) {
    const { contents, at, options } = phone;
    const followed = watch.feedsOf(options.actor);
    const held = new Set([...contents.feeds.keys(), ...contents.records.keys()]);
    const over = [...held].filter((feed) => !followed.has(feed));
    if (over.length > 0) findings.add('feed exactness', `phone ${at} holds ${over.join()}, which it does not follow`);
    for (const feed of followed) {
      const right = ledger.get(feed) ?? new Map<string, string>();
      const own = [...(contents.records.get(feed)?.values() ?? [])].map(({ record }) => record);
      const ids = new Set(own.map(({ id }) => id));
      const missing = [...right.keys()].filter((id) => !ids.has(id));
      if (missing.length > 0) findings.add('no row is missed', `phone ${at} misses ${missing.join()} of ${feed}`);
      const same = own.length === right.size && own.every((record) => canonicalText(record) === right.get(record.id));
      if (!same) findings.add('convergence', `phone ${at} and the server differ in ${feed}`);
    }
  }
}

/** What is derived follows from the ledger, the ledger from its beginning, and each record lives in one feed. */
export async function checkServer(server: ModelServer, findings: Findings): Promise<void> {
  const differences = await recompute(server.pool, FIRM);
  for (const { what, feed, kind, id, detail } of differences.slice(0, 3)) {
    const property = what === 'history' ? 'history' : 'convergence';
    findings.add(property, `${what} of ${kind} ${id} in ${feed}: ${detail}`);
  }
  revisionsGoOn(server, findings);
  const places = new Map<string, string>();
  for (const [feed, live] of feedsInLedger(server)) {
    for (const id of live.keys()) {
      const other = places.get(id);
      if (other !== undefined) findings.add('causal and atomic', `${id} is live in ${other} and in ${feed}`);
      places.set(id, feed);
    }
  }
}

/** No revision of a record is given twice, whatever became of the record in between. */
function revisionsGoOn({ tables }: ModelServer, findings: Findings): void {
  const given = new Set<string>();
  for (const { record, rev, state } of tables.ledger.values()) {
    if (state === null) continue;
    const key = `${record} ${rev}`;
    if (given.has(key)) findings.add('history', `revision ${rev} of ${record} was given twice`);
    given.add(key);
  }
}
