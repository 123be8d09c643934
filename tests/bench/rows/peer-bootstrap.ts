import type { Ground } from '../ground.ts';
import { HttpConnection } from '../http-connection.ts';
import { alternating, type InTurn } from '../in-turn.ts';
import { type Measured, type Meter, sideOf } from '../meter.ts';
import { type Document, inBulk } from '../peer/documents.ts';
import { createDatabase, PEER_NAME, type Peer } from '../peer/start.ts';
import { type Round, type Row, roundOf } from '../row.ts';
import { bootstrap } from '../sides/bootstrap.ts';
import { readChanges } from '../sides/peer-changes.ts';
import { writeToPeer } from '../sides/peer-write.ts';
import { BATCH } from './push.ts';

const FEED = 'feed';
const PER_PAGE = 1_000;
/** The peer takes up to a second for ten of them, so it is not asked for a whole feed. */
const MOST_PAGES = 10;
/** Ten pages are read by us within a fifth of a second, which is too little to measure. */
const LEAST_TIMES = 3;

/** A phone at the server, and the rows of its first pages as documents of the peer. */
export interface PeerBootstrapSides {
  readonly peer: Peer;
  readonly address: string;
  readonly headers: string;
  readonly pages: number;
  readonly inTurn: InTurn;
}

interface Page {
  readonly rows: readonly { readonly record?: { readonly id: string } }[];
}

async function connected<T>(url: string, work: (connection: HttpConnection) => Promise<T>): Promise<T> {
  const connection = await HttpConnection.open(url);
  return work(connection).finally(() => connection.close());
}

/** The records that the server sends on its first pages, each a document; a page that is not full is left out. */
async function firstRecords(url: string, address: string, headers: string): Promise<Document[]> {
  const pages: Page[] = [];
  const take = (body: Buffer) => void pages.push(JSON.parse(body.toString('utf8')) as Page);
  await connected(url, (connection) => bootstrap(connection, address, headers, MOST_PAGES, take));
  const full = pages.filter((page) => page.rows.length === PER_PAGE);
  return full.flatMap(({ rows }) =>
    rows.map(({ record }) => {
      if (!record) throw new Error('a page from nothing holds a row without its record');
      const { id, ...rest } = record;
      return { id, text: JSON.stringify({ _id: id, ...rest }) };
    }),
  );
}

function inBatches(documents: readonly Document[]): Document[][] {
  const count = Math.ceil(documents.length / BATCH);
  return Array.from({ length: count }, (_, index) => documents.slice(index * BATCH, (index + 1) * BATCH));
}

/** Copies the first pages of the feed to the peer, in their order; reads each once, so that neither begins cold. */
export async function openPeerBootstrap(ground: Ground, peer: Peer): Promise<PeerBootstrapSides> {
  const { headers } = await ground.firm.phone();
  const address = `/v1/sync/feeds/${encodeURIComponent(ground.firm.feed)}/rows`;
  const documents = await firstRecords(ground.server.url, address, headers);
  await createDatabase(peer, FEED);
  await writeToPeer(peer, [inBatches(documents).map((batch) => inBulk(FEED, batch))]);
  const sides = { peer, address, headers, pages: documents.length / PER_PAGE, inTurn: alternating() };
  await peerBootstrapRound(ground, sides);
  return sides;
}

function readTimes(meter: Meter, url: string, times: number, read: (connection: HttpConnection) => Promise<unknown>) {
  return connected(
    url,
    (connection): Promise<Measured> =>
      meter(async () => {
        for (let time = 0; time < times; time++) await read(connection);
      }),
  );
}

/** One round: the same rows, page by page, from the server and from the peer. */
export async function peerBootstrapRound(ground: Ground, sides: PeerBootstrapSides): Promise<Round> {
  const { peer, address, headers, pages, inTurn } = sides;
  const times = Math.max(ground.size.bootstraps, LEAST_TIMES);
  const rows = pages * PER_PAGE * times;
  await ground.postgres.calm();
  const read = (connection: HttpConnection) => bootstrap(connection, address, headers, pages);
  const readPeer = (connection: HttpConnection) => readChanges(connection, FEED, pages, PER_PAGE);
  const { own, other } = await inTurn(
    () => readTimes(ground.meter, ground.server.url, times, read),
    () => readTimes(peer.meter, peer.url, times, readPeer),
  );
  return roundOf(sideOf(rows, own), sideOf(rows, other));
}

export function peerBootstrapRow(rounds: readonly Round[]): Row {
  const name = 'bootstrap over HTTP, 1,000 rows a page';
  return { name, against: PEER_NAME, unit: 'rows/s', measure: 'rate', target: 10, rounds };
}
