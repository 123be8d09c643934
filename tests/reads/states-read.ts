import pg from 'pg';
import { vi } from 'vitest';

/** The ids of the records whose states a piece of work has the database send, each as often as it was sent. */
export async function statesRead(work: () => Promise<unknown>): Promise<readonly string[]> {
  const read: string[] = [];
  const query = pg.Client.prototype.query as (...args: unknown[]) => Promise<pg.QueryResult> | undefined;
  const spy = vi.spyOn(pg.Client.prototype, 'query').mockImplementation(function (this: pg.Client, ...args: unknown[]) {
    const sent = query.apply(this, args);
    const noted = sent?.then?.((result) => {
      const rows: { readonly state?: { readonly id: string } }[] = result.rows ?? [];
      read.push(...rows.flatMap(({ state }) => state?.id ?? []));
      return result;
    });
    return (noted ?? sent) as never;
  } as never);
  try {
    await work();
    return read;
  } finally {
    spy.mockRestore();
  }
}
