import type { FastifyInstance } from 'fastify';
import { type Config, ConfigError } from './config.ts';

type Explain = (config: Config) => string;

const ANOTHER_PORT = 'name another port in PORT; PORT=0 takes a free one';
const ANOTHER_HOST = 'HOST is an address of this machine: 127.0.0.1 for this machine alone, 0.0.0.0 for every network';

const noSuchHost: Explain = ({ HOST }) => `No address is known for HOST ${JSON.stringify(HOST)}. ${ANOTHER_HOST}.`;

/** What the system says by a code, in words that name the setting. */
const EXPLANATIONS: Readonly<Record<string, Explain>> = {
  EADDRINUSE: ({ HOST, PORT }) => `Another program serves on ${HOST} port ${PORT}. Stop it, or ${ANOTHER_PORT}.`,
  EADDRNOTAVAIL: ({ HOST }) => `HOST ${JSON.stringify(HOST)} is no address of this machine. ${ANOTHER_HOST}.`,
  EACCES: ({ PORT }) => `This account may not serve on port ${PORT}. Ports below 1024 need rights; ${ANOTHER_PORT}.`,
  ENOTFOUND: noSuchHost,
  EAI_AGAIN: noSuchHost,
};

/**
 * Begins to serve where the settings say.
 *
 * @returns the address, with the port that was taken
 * @throws ConfigError where that place cannot be had
 */
export async function listen(app: FastifyInstance, config: Config): Promise<string> {
  try {
    return await app.listen({ port: config.PORT, host: config.HOST });
  } catch (error) {
    const explain = EXPLANATIONS[(error as NodeJS.ErrnoException).code ?? ''];
    throw explain === undefined ? error : new ConfigError(explain(config), { cause: error });
  }
}
