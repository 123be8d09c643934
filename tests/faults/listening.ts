import type { AddressInfo } from 'node:net';
import { type TestApp, testApp } from '../support/test-app.ts';

/** The whole server on a port of its own. */
export interface Listening {
  readonly t: TestApp;
  readonly port: number;
  readonly url: string;
}

export async function listening(): Promise<Listening> {
  const t = await testApp();
  await t.app.listen({ port: 0, host: '127.0.0.1' });
  const { port } = t.app.server.address() as AddressInfo;
  return { t, port, url: `http://127.0.0.1:${port}` };
}
