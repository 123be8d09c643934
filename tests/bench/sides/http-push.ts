import type { Phone } from '../bench-firm.ts';
import type { Ground } from '../ground.ts';
import { HttpConnection } from '../http-connection.ts';
import type { Measured } from '../meter.ts';
import type { Push } from '../readings.ts';

function check(status: number, body: Buffer, push: Push): void {
  const applied = body.toString('latin1').split('"outcome":"applied"').length - 1;
  if (status === 200 && applied === push.mutations) return;
  throw new Error(
    `a push of ${push.mutations} was answered ${status} with ${applied} applied: ${body.toString('utf8').slice(0, 800)}`,
  );
}

async function sendAll(connection: HttpConnection, phone: Phone, pushes: readonly Push[]): Promise<void> {
  for (const push of pushes) {
    const { status, body } = await connection.ask('POST', '/v1/sync/push', phone.headers, push.body);
    check(status, body, push);
  }
}

/** All phones push at once, each its next push when the one before is answered. */
export async function pushOverHttp(ground: Ground, pushes: readonly Push[][]): Promise<Measured> {
  const { phones, server, meter } = ground;
  const connections = await Promise.all(phones.map(() => HttpConnection.open(server.url)));
  const send = (phone: Phone, index: number) => {
    const connection = connections[index];
    if (!connection) throw new Error('a phone has no connection');
    return sendAll(connection, phone, pushes[index] ?? []);
  };
  try {
    return await meter(() => Promise.all(phones.map(send)));
  } finally {
    for (const connection of connections) connection.close();
  }
}
