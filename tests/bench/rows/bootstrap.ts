import { v7 } from 'uuid';
import { type Child, startChild } from '../child.ts';
import type { Cleanup } from '../cleanup.ts';
import { type Ground, tailOf } from '../ground.ts';
import { HttpConnection } from '../http-connection.ts';
import { alternating, type InTurn } from '../in-turn.ts';
import { type Measured, type Meter, meterOf, sideOf } from '../meter.ts';
import { type Round, type Row, roundOf } from '../row.ts';
import { type Bootstrapped, bootstrap } from '../sides/bootstrap.ts';
import { checkSamePages } from '../sides/same-pages.ts';

interface Asked {
  readonly url: string;
  readonly address: string;
  readonly headers: string;
}

/** Reads the feed so many times, one phone at a time. */
async function readAll(meter: Meter, side: Asked, times: number): Promise<{ spent: Measured; last: Bootstrapped }> {
  let last: Bootstrapped = { bytes: 0, pages: 0, sizes: [], firstPage: '', tail: 0 };
  const connection = await HttpConnection.open(side.url);
  try {
    const spent = await meter(async () => {
      for (let time = 0; time < times; time++) last = await bootstrap(connection, side.address, side.headers);
    });
    return { spent, last };
  } finally {
    connection.close();
  }
}

/** What our pages say before their rows, so that the bare server sends the same number of bytes. */
function headOf(firstPage: string): string {
  const [, before = '', cursor = '', after = ''] =
    /^(.*"cursor":")([^"]*)","more":true(.*?"rows":\[)/.exec(firstPage) ?? [];
  return JSON.stringify({ before, cursorLength: cursor.length, after });
}

function startBare(cleanup: Cleanup, ground: Ground, firstPage: string): Promise<Child> {
  return startChild(cleanup, 'tests/bench/sides/bare-feed-server.ts', {
    BARE_DATABASE_URL: ground.database.appUrl,
    BARE_FIRM: ground.firm.firm.id,
    BARE_FEED: ground.firm.feed,
    BARE_HEAD: headOf(firstPage),
  });
}

/** Without anything that is gone, two servers that treat it otherwise would seem to send the same: a visit moves away. */
async function leaveGone(ground: Ground): Promise<void> {
  const { admin, firm: standing } = ground.firm;
  const [open] = await ground.firm.openPurges(1);
  if (!open) throw new Error('no purge is open');
  const { site, ann: by } = standing.ids;
  const event = v7();
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const set = { site, name: 'Extra round', standing: 'open', starts: '2026-05-04', ends: '2026-05-05', plan };
  const move = { verb: 'rehome', kind: 'visit', id: open.visit, base: { rev: 1 }, reason: 'of the extra round' };
  for (const draft of [
    { kind: 'event', id: event, set, by },
    { ...move, set: { event }, by },
  ]) {
    const [outcome] = await admin.push(draft);
    if (outcome?.outcome !== 'applied') throw new Error(`a visit cannot move away: ${JSON.stringify(outcome)}`);
  }
  const { firm, feed } = ground.firm;
  const text = `select count(*)::int as gone from head where firm = '${firm.id}' and feed = '${feed}' and gone`;
  const [row] = await ground.postgres.query(text, ground.database.name);
  if (!row?.gone) throw new Error(`nothing of the feed ${feed} is gone: how that is sent was not measured`);
}

/** A phone at the server, and the same phone at the bare server. */
export interface BootstrapSides {
  readonly own: Asked;
  readonly bare: Pick<Asked, 'url' | 'headers'>;
  readonly meter: Meter;
  readonly inTurn: InTurn;
}

/** Opens both sides, and reads once from each, to see that they send the same. */
export async function openBootstrap(cleanup: Cleanup, ground: Ground): Promise<BootstrapSides> {
  await leaveGone(ground);
  const phone = await ground.firm.phone();
  const address = `/v1/sync/feeds/${encodeURIComponent(ground.firm.feed)}/rows`;
  const own = { url: ground.server.url, address, headers: phone.headers };
  const first = await readAll(ground.meter, own, 1);
  const child = await startBare(cleanup, ground, first.last.firstPage);
  const meter = meterOf([process.pid, ground.postgres.pid, ground.server.pid, child.pid]);
  const sides = { own, bare: { url: child.url, headers: '' }, meter, inTurn: alternating() };
  checkSamePages(first.last, (await readBare(sides, first.last.tail, 1)).last);
  return sides;
}

/** Reads from the bare server what is read from ours: up to where the feed ends. */
function readBare({ bare, meter }: BootstrapSides, tail: number, times: number) {
  return readAll(meter, { ...bare, address: `/rows/${tail}` }, times);
}

/** One round: a phone reads the whole feed from the server, and from the bare server. */
export async function bootstrapRound(ground: Ground, sides: BootstrapSides): Promise<Round> {
  const { bootstraps } = ground.size;
  const tail = await tailOf(ground);
  await ground.postgres.calm();
  const { own: ours, other: theirs } = await sides.inTurn(
    () => readAll(sides.meter, sides.own, bootstraps),
    () => readBare(sides, tail, bootstraps),
  );
  checkSamePages(ours.last, theirs.last);
  const pages = ours.last.pages * bootstraps;
  return roundOf(sideOf(pages, ours.spent), sideOf(pages, theirs.spent));
}

export function bootstrapRow(rounds: readonly Round[]): Row {
  const against = 'a bare Node HTTP server, same query, same bytes';
  return {
    name: 'bootstrap over HTTP, 1,000 rows a page',
    against,
    unit: 'pages/s',
    measure: 'rate',
    target: 0.8,
    rounds,
  };
}
