import type { Cleanup } from '../cleanup.ts';
import type { Ground } from '../ground.ts';
import { alternating } from '../in-turn.ts';
import { createDatabase, type Peer, startPeer } from '../peer/start.ts';
import type { Round, Row } from '../row.ts';
import { openPeerBootstrap, type PeerBootstrapSides, peerBootstrapRound, peerBootstrapRow } from './peer-bootstrap.ts';
import {
  type PeerWriteSides,
  peerPushRound,
  peerPushRow,
  peerSingleRound,
  peerSingleRow,
  WRITES,
} from './peer-push.ts';

type Wanted = (row: string) => boolean;
type Found = Readonly<Record<PeerRow, Round[]>>;

const ROWS = { 'peer-push': peerPushRow, 'peer-single': peerSingleRow, 'peer-bootstrap': peerBootstrapRow } as const;
export type PeerRow = keyof typeof ROWS;
export const PEER_ROWS = Object.keys(ROWS) as readonly PeerRow[];

/** The rows against a general-purpose document database, which is installed for them and otherwise not there. */
export interface PeerSides {
  round(): Promise<void>;
  rows(): Row[];
}

const NONE: PeerSides = { round: async () => undefined, rows: () => [] };

function absent(named: readonly PeerRow[], reason: string): PeerSides {
  return { ...NONE, rows: () => named.map((name) => ({ ...ROWS[name]([]), absent: `peer not measured: ${reason}` })) };
}

interface Opened {
  readonly push: PeerWriteSides | null;
  readonly single: PeerWriteSides | null;
  readonly feed: PeerBootstrapSides | null;
}

async function oneRound(ground: Ground, { push, single, feed }: Opened, found: Found) {
  if (push) found['peer-push'].push(await peerPushRound(push));
  if (single) found['peer-single'].push(await peerSingleRound(single));
  if (feed) found['peer-bootstrap'].push(await peerBootstrapRound(ground, feed));
}

/** Warms up with a round that nobody counts. */
async function open(ground: Ground, peer: Peer, wanted: Wanted): Promise<PeerSides> {
  const found: Found = { 'peer-push': [], 'peer-single': [], 'peer-bootstrap': [] };
  await createDatabase(peer, WRITES);
  const writing = (row: PeerRow) => (wanted(row) ? { ground, peer, inTurn: alternating() } : null);
  const [push, single] = [writing('peer-push'), writing('peer-single')];
  if (push) await peerPushRound(push);
  if (single) await peerSingleRound(single);
  const feed = wanted('peer-bootstrap') ? await openPeerBootstrap(ground, peer) : null;
  return {
    round: () => oneRound(ground, { push, single, feed }, found),
    rows: () => PEER_ROWS.filter(wanted).map((name) => ROWS[name](found[name])),
  };
}

/** Where the peer cannot be had, its rows say why, and everything else is measured. */
export async function openPeer(
  cleanup: Cleanup,
  ground: Ground,
  wanted: Wanted,
  say: (text: string) => void,
): Promise<PeerSides> {
  const named = PEER_ROWS.filter(wanted);
  if (named.length === 0) return NONE;
  const peer = await startPeer(cleanup, say).catch((error: unknown) =>
    error instanceof Error ? error.message : String(error),
  );
  if (typeof peer !== 'string') return open(ground, peer, wanted);
  say(`peer not measured: ${peer}`);
  return absent(named, peer);
}
