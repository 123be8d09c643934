import type { Logger } from 'pino';
import type { Config } from '../../src/config.ts';
import { openStore, type Served, serve } from '../../src/start.ts';
import type { WorldClock } from '../play/clock.ts';
import type { Host } from '../play/enter-firm.ts';

/** The server of the demo, on the clock of the play. */
export interface DemoServer extends Host {
  /** As it was asked to listen. */
  readonly url: string;
  close(): Promise<void>;
}

/** Where the phones of the play find a server that listens on every address of the machine. */
function reachable(url: string): string {
  return url.replace('//0.0.0.0:', '//127.0.0.1:').replace('//[::]:', '//[::1]:');
}

export async function openDemoServer(config: Config, logger: Logger, clock: WorldClock): Promise<DemoServer> {
  const store = await openStore(config, logger, () => clock.now());
  let served: Served;
  try {
    served = await serve(store.ctx, config, logger);
  } catch (error) {
    await store.close();
    throw error;
  }
  const { app, url } = served;
  const close = async () => {
    await app.close();
    await store.close();
  };
  return { url, base: reachable(url), ctx: store.ctx, clock, folder: config.DATA_DIR, close };
}
