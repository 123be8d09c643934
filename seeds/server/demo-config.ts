import path from 'node:path';
import { type Config, readConfig } from '../../src/config.ts';

const OWN_FOLDER = path.join(import.meta.dirname, '../../.data/demo');

/** The settings of the server, but for the database: the demo has its own, and leaves any other alone. */
export function demoConfig(env: NodeJS.ProcessEnv): Config {
  const { DATABASE_URL: _theirs, APP_DATABASE_URL: _theirsToo, ...rest } = env;
  return readConfig({ ...rest, DATA_DIR: rest.DATA_DIR || OWN_FOLDER, LOG_LEVEL: rest.LOG_LEVEL || 'warn' });
}
