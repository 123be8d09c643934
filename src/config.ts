import { z } from 'zod';

const port = z
  .string()
  .regex(/^\d{1,5}$/, { error: 'must be a port number, 0 for any free one' })
  .transform(Number)
  .refine((value) => value <= 65_535, { error: 'must be at most 65535' });

const settings = z.object({
  PORT: port.default(4400).describe('Port to serve on; 0 takes a free one'),
  HOST: z.string().default('127.0.0.1').describe('Address to serve on; 0.0.0.0 for every network'),
  DATA_DIR: z.string().default('.data').describe('Folder of the embedded database'),
  DATABASE_URL: z
    .url({ protocol: /^postgres(ql)?$/ })
    .optional()
    .describe("A PostgreSQL of one's own, as its owner"),
  APP_DATABASE_URL: z
    .url({ protocol: /^postgres(ql)?$/ })
    .optional()
    .describe('The same database as the application role; without it the owner gives up its rights'),
  REQUESTS_PER_MINUTE: z
    .string()
    .regex(/^[1-9]\d{0,8}$/, { error: 'must be a whole number above zero' })
    .transform(Number)
    .optional()
    .describe('Requests that one token may make in a minute, in one process; pushes are not counted'),
  RETENTION_DAYS: z
    .union(
      [
        z.literal('off'),
        z
          .string()
          .regex(/^[1-9]\d{0,4}$/)
          .transform(Number),
      ],
      {
        error: 'must be a whole number of days, 1 or more, or off',
      },
    )
    .default(90) // common practice, no source
    .describe('How long a feed tells that a record left it; a phone out of touch for longer begins its feeds anew'),
  DURABLE: z
    .enum(['backup', 'replicated'])
    .default('backup')
    .describe(
      'What phones may forget: backup, what a backup holds; replicated, what is committed, since that is on two machines',
    ),
  LOG_LEVEL: z.enum(['fatal', 'error', 'warn', 'info', 'debug', 'trace', 'silent']).default('info'),
});
export type Config = z.output<typeof settings>;

/** The settings themselves are wrong: nothing was started. */
export class ConfigError extends Error {
  /** EX_CONFIG of sysexits.h. */
  readonly exitCode = 78;
}

function fault(issue: z.core.$ZodIssue, env: NodeJS.ProcessEnv): string {
  const name = String(issue.path[0]);
  const shape = settings.shape as Readonly<Record<string, z.ZodType>>;
  const given = env[name] === undefined ? 'nothing' : JSON.stringify(env[name]);
  return `${name}: ${given} was given; ${issue.message}. (${shape[name]?.description ?? 'see the README'})`;
}

/** Settings that make sense by themselves and not with each other. */
function together(config: Config): Config {
  if (config.APP_DATABASE_URL === undefined || config.DATABASE_URL !== undefined) return config;
  throw new ConfigError(
    'APP_DATABASE_URL was given without DATABASE_URL. Give both for a PostgreSQL of your own, or neither for the embedded one.',
  );
}

/**
 * Reads the settings from the environment; an empty value counts as none.
 *
 * @throws ConfigError naming every fault at once
 */
export function readConfig(env: NodeJS.ProcessEnv): Config {
  const given = Object.fromEntries(Object.entries(env).filter(([, value]) => value !== ''));
  const parsed = settings.safeParse(given);
  if (parsed.success) return together(parsed.data);
  throw new ConfigError(
    `The settings cannot be used:\n${parsed.error.issues.map((one) => `  ${fault(one, env)}`).join('\n')}`,
  );
}
