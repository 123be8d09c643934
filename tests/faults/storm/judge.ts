import { recount, sameTally } from '../../../src/client/tally.ts';
import { canonicalText } from '../../../src/protocol/content-hash.ts';
import type { RecordState } from '../../../src/protocol/record.ts';
import { recompute } from '../../../src/writes/recompute.ts';
import { FIRM } from '../../sim/base-firm.ts';
import { HistoryCheck } from '../../sim/check-history.ts';
import { historyFaults } from '../../support/history-check.ts';
import { judgeReceipts } from './judge-receipts.ts';
import type { StormPhone } from './storm-phone.ts';
import type { StormWorld } from './world.ts';

interface LedgerRow {
  readonly feed: string;
  readonly record: string;
  readonly state: string | null;
}

/** The texts of the live records of each feed, as the rows of the ledger tell them in their order. */
async function feedsInLedger({ options }: StormWorld): Promise<Map<string, Map<string, string>>> {
  const { rows } = await options.db.bypass.query<LedgerRow>(
    'select feed, record, state::text as state from ledger where firm = $1 order by feed, seq',
    [FIRM],
  );
  const feeds = new Map<string, Map<string, string>>();
  for (const { feed, record, state } of rows) {
    const live = feeds.get(feed) ?? new Map<string, string>();
    feeds.set(feed, live);
    if (state === null) live.delete(record);
    else live.set(record, state);
  }
  return feeds;
}

/** A phone holds the feeds that the server lists for it, each to the byte, and of each the count and hash agree. */
async function judgePhone(world: StormWorld, phone: StormPhone, ledger: Map<string, Map<string, string>>) {
  const { findings } = world;
  const { contents, client, at } = phone.sim;
  const answer = await client.context.transport.feeds(contents.identity?.client ?? '');
  if (!answer.ok) {
    findings.add('nothing wedges', `phone ${at} cannot ask for its feeds: ${answer.problem.detail}`);
    return;
  }
  const listed = answer.value.feeds.map(({ feed }) => feed);
  const over = [...contents.feeds.keys()].filter((feed) => !listed.includes(feed));
  if (over.length > 0) findings.add('feed exactness', `phone ${at} holds ${over.join()}, which it does not follow`);
  for (const one of answer.value.feeds) {
    const held = [...(contents.records.get(one.feed)?.values() ?? [])];
    if (!sameTally(recount(held), one)) findings.add('convergence', `phone ${at} counts ${one.feed} otherwise`);
    const right = ledger.get(one.feed) ?? new Map<string, string>();
    const ids = new Set(held.map(({ record }) => record.id));
    const missing = [...right.keys()].filter((id) => !ids.has(id));
    if (missing.length > 0) findings.add('no row is missed', `phone ${at} misses ${missing.join()} of ${one.feed}`);
    const same = held.every(({ record }) => canonicalText(record) === right.get(record.id));
    if (!same || held.length !== right.size) {
      findings.add('convergence', `phone ${at} and the ledger differ in ${one.feed}`);
    }
  }
}

/** Everything that must hold once all is quiet, in the words of what people did, what phones hold and what SQL says. */
export async function judge(world: StormWorld): Promise<void> {
  const { findings, history, features, options } = world;
  const ledger = await feedsInLedger(world);
  for (const phone of world.phones) await judgePhone(world, phone, ledger);
  await judgeReceipts(world);
  const records = [...ledger.values()].flatMap((live) =>
    [...live.values()].map((text) => JSON.parse(text) as RecordState),
  );
  new HistoryCheck(history, new Map(records.map((one) => [one.id, one])), features, findings).run();
  const { faults } = await historyFaults(options.db.bypass, FIRM);
  for (const fault of faults.slice(0, 3)) findings.add('history', fault);
  for (const { what, feed, kind, id, detail } of (await recompute(options.db.pool, FIRM)).slice(0, 3)) {
    findings.add(what === 'history' ? 'history' : 'convergence', `${what} of ${kind} ${id} in ${feed}: ${detail}`);
  }
}
