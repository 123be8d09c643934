import pg from 'pg';

/** A connection of one's own that connects as a pool does, and is none of its connections; whoever asks for it ends it. */
export function clientLike(pool: pg.Pool, more: pg.ClientConfig): pg.Client {
  const { options } = pool;
  return new pg.Client({
    ...options,
    // a pool keeps it where copying does not see it
    ...(options.password === undefined ? {} : { password: options.password }),
    ...more,
  });
}
