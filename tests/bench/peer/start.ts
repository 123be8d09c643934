import { mkdtemp, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { startChild } from '../child.ts';
import type { Cleanup } from '../cleanup.ts';
import { HttpConnection } from '../http-connection.ts';
import { type Meter, meterOf } from '../meter.ts';
import { installPeer, PEER_VERSION } from './install.ts';

/** LevelDB hands a write to the system and does not wait for the disk, unless it is asked to: nobody asks it here. */
export const PEER_NAME = `PouchDB Server ${PEER_VERSION} on disk, which does not fsync (ours does)`;

/** A general-purpose document database that runs on this machine, with a folder of its own. */
export interface Peer {
  readonly url: string;
  /** Of the load and the peer. */
  readonly meter: Meter;
}

export async function createDatabase(peer: Peer, name: string): Promise<void> {
  const connection = await HttpConnection.open(peer.url);
  const { status, body } = await connection.ask('PUT', `/${name}`, '').finally(() => connection.close());
  if (status !== 201) throw new Error(`the peer answered ${status} when asked for a database: ${body}`);
}

async function temporaryFolder(cleanup: Cleanup): Promise<string> {
  const folder = await mkdtemp(path.join(os.tmpdir(), 'wellround-peer-'));
  cleanup.add(() => rm(folder, { recursive: true, force: true }));
  return folder;
}

/** Installs the peer where it is not, and starts it; fails where it cannot be had. */
export async function startPeer(cleanup: Cleanup, say: (text: string) => void): Promise<Peer> {
  say('looking for the peer, which is installed where it is not there');
  const { folder, seconds } = await installPeer(cleanup);
  say(seconds === null ? 'the peer is there' : `the peer was installed in ${seconds.toFixed(1)} s`);
  const data = await temporaryFolder(cleanup);
  const env = { PEER_PACKAGES: folder, PEER_DATA: data, NODE_ENV: 'production' };
  const child = await startChild(cleanup, 'tests/bench/peer/server.ts', env);
  return { url: child.url, meter: meterOf([process.pid, child.pid]) };
}
