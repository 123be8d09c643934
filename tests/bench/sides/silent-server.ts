import pino from 'pino';
import { readConfig } from '../../../src/config.ts';
import { openStore, serve } from '../../../src/start.ts';
import { openLane } from '../../../src/writes/lane.ts';

// The server as it is, but nobody is told of what it commits: what the doorbell costs is the difference.
const config = readConfig(process.env);
const logger = pino({ level: config.LOG_LEVEL }, pino.destination(2));
const store = await openStore(config, logger, () => new Date());
const { pool, now } = store.ctx;
const lane = openLane({ pool, now, committed: () => undefined });
const { app, url } = await serve({ ...store.ctx, lane }, config, logger);
process.stdout.write(`ready ${url}\n`);
process.once('SIGTERM', () => void app.close().then(() => store.close()));
