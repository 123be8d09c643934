import { CLIENTS, type Ground } from '../ground.ts';
import { sideOf } from '../meter.ts';
import { alone, documentsOf, inBulk, type PeerWrite } from '../peer/documents.ts';
import { PEER_NAME, type Peer } from '../peer/start.ts';
import type { Push } from '../readings.ts';
import { type Round, type Row, roundOf } from '../row.ts';
import { pushOverHttp } from '../sides/http-push.ts';
import { writeToPeer } from '../sides/peer-write.ts';
import { BATCH, readyPushes } from './push.ts';

export const WRITES = 'writes';

/** The same pushes to the server and to the peer, from as many connections, one side after the other. */
async function round(ground: Ground, peer: Peer, pushes: Push[][], write: (push: Push) => PeerWrite): Promise<Round> {
  const lists = pushes.map((list) => list.map(write));
  const operations = pushes.flat().reduce((sum, push) => sum + push.mutations, 0);
  await ground.postgres.calm();
  const own = sideOf(operations, await pushOverHttp(ground, pushes));
  await ground.postgres.calm();
  return roundOf(own, sideOf(operations, await writeToPeer(peer, lists)));
}

export async function peerPushRound(ground: Ground, peer: Peer): Promise<Round> {
  const pushes = await readyPushes(ground, ground.size.batches, BATCH);
  return round(ground, peer, pushes, (push) => inBulk(WRITES, documentsOf(push)));
}

export async function peerSingleRound(ground: Ground, peer: Peer): Promise<Round> {
  const pushes = await readyPushes(ground, ground.size.singles, 1);
  return round(ground, peer, pushes, (push) => {
    const [only] = documentsOf(push);
    if (!only) throw new Error('a push of one mutation holds none');
    return alone(WRITES, only);
  });
}

export function peerPushRow(rounds: readonly Round[]): Row {
  const name = `push, batches of ${BATCH} from ${CLIENTS} clients, one feed`;
  return { name, against: PEER_NAME, unit: 'readings/s', measure: 'rate', target: 2, stretch: 3.5, rounds };
}

export function peerSingleRow(rounds: readonly Round[]): Row {
  const name = `single mutations, ${CLIENTS} at once, one feed`;
  return { name, against: PEER_NAME, unit: 'mutations/s', measure: 'rate', target: 5, rounds };
}
