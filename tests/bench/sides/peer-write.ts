import { HttpConnection } from '../http-connection.ts';
import type { Measured } from '../meter.ts';
import type { PeerWrite } from '../peer/documents.ts';
import type { Peer } from '../peer/start.ts';

const JSON_BODY = 'content-type: application/json\r\n';

/** The peer answers 201 even where it refused some of the documents. */
function check(status: number, body: Buffer, write: PeerWrite): void {
  const stored = body.toString('latin1').split('"ok":true').length - 1;
  if (status === 201 && stored === write.documents) return;
  const said = body.toString('utf8').slice(0, 800);
  throw new Error(`the peer answered ${status} and stored ${stored} of ${write.documents} documents: ${said}`);
}

async function sendAll(connection: HttpConnection, writes: readonly PeerWrite[]): Promise<void> {
  for (const write of writes) {
    const { status, body } = await connection.ask(write.method, write.path, JSON_BODY, write.body);
    check(status, body, write);
  }
}

/** A connection for each list, all at once; each sends its next write when the one before is answered. */
export async function writeToPeer(peer: Peer, lists: readonly (readonly PeerWrite[])[]): Promise<Measured> {
  const opened = await Promise.all(
    lists.map(async (writes) => ({ writes, connection: await HttpConnection.open(peer.url) })),
  );
  try {
    return await peer.meter(() => Promise.all(opened.map((one) => sendAll(one.connection, one.writes))));
  } finally {
    for (const { connection } of opened) connection.close();
  }
}
