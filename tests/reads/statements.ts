import pg from 'pg';
import { vi } from 'vitest';

/** The statements that a piece of work sends to the database, the opening and closing of transactions left out. */
export async function statementsOf<Result>(work: () => Promise<Result>): Promise<{ result: Result; sent: string[] }> {
  const sent: string[] = [];
  const query = pg.Client.prototype.query as (...args: unknown[]) => unknown;
  const spy = vi.spyOn(pg.Client.prototype, 'query').mockImplementation(function (this: pg.Client, ...args: unknown[]) {
    const [first] = args as [string | { text: string }];
    sent.push(typeof first === 'string' ? first : first.text);
    return query.apply(this, args) as never;
  } as never);
  try {
    const result = await work();
    return { result, sent: sent.filter((text) => !/^\s*(begin|commit|rollback)/i.test(text)) };
  } finally {
    spy.mockRestore();
  }
}
