import { v7 } from 'uuid';
import { type FieldClient, openClient } from '../../src/client/client.ts';
import type { FetchLike } from '../../src/client/fetch-like.ts';
import { httpTransport } from '../../src/client/http-transport.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import type { Role } from '../../src/protocol/kind.ts';
import type { TestApp } from '../support/test-app.ts';
import type { SimClock } from './fake/phone.ts';

/** A fetch straight into the server. */
function fetchInto({ app }: TestApp): FetchLike {
  return async (url, { method, headers, body }) => {
    const payload = body === undefined ? {} : { payload: body };
    const answer = await app.inject({ method, url: url.replace('http://server', ''), headers, ...payload });
    const header = (name: string) => answer.headers[name];
    return {
      status: answer.statusCode,
      headers: { get: (name) => (header(name) === undefined ? null : String(header(name))) },
      text: async () => answer.body,
    };
  };
}

/** A phone of the test firm's server; it knows its role, as one does that asked who it is. */
export async function serverPhone(server: TestApp, clock: SimClock, device: string, role: Role = 'crew') {
  const token = await server.token(role, device);
  const transport = httpTransport({ base: 'http://server', token, fetch: fetchInto(server) });
  const phone: FieldClient = await openClient({ store: memoryStore(), transport, time: clock, newId: v7, role });
  await phone.setPerson(server.firm.ids.ann);
  return phone;
}
