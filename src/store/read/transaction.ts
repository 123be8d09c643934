import type pg from 'pg';
import { afterOpening } from '../after-opening.ts';

/** An open read of one firm, from one snapshot: everything read in it belongs together. */
export interface ReadTx {
  readonly client: pg.ClientBase;
  readonly firm: string;
}

const UUID = /^[0-9a-f-]{36}$/;

/** Reads of one firm from one snapshot, on a connection that is free. */
export async function inReadOn<Result>(
  client: pg.ClientBase,
  firm: string,
  work: (tx: ReadTx) => Promise<Result>,
): Promise<Result> {
  if (!UUID.test(firm)) throw new RangeError(`a firm is a UUID, ${JSON.stringify(firm)} was given`);
  const opening = client.query(
    `begin isolation level repeatable read read only; select set_config('wellround.firm', '${firm}', true);`,
  );
  const result = await afterOpening(opening, work({ client, firm }));
  await client.query('commit');
  return result;
}

/** Reads of one firm from one snapshot; row-level security shows nothing of any other. */
export async function inRead<Result>(
  pool: pg.Pool,
  firm: string,
  work: (tx: ReadTx) => Promise<Result>,
): Promise<Result> {
  if (!UUID.test(firm)) throw new RangeError(`a firm is a UUID, ${JSON.stringify(firm)} was given`);
  const client = await pool.connect();
  let broken: unknown;
  try {
    return await inReadOn(client, firm, work);
  } catch (error) {
    await client.query('rollback').catch((fault: unknown) => (broken = fault));
    throw error;
  } finally {
    client.release(broken instanceof Error ? broken : undefined);
  }
}
