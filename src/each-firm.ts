import type { Database } from './store/connections.ts';
import { type ListedFirm, listFirms } from './store/read/firm-list.ts';

/** What is done with every firm of an installation. */
export interface EachFirm {
  readonly step: (firm: ListedFirm) => Promise<void>;
  /** Told of a firm whose step failed; the others are gone through all the same. */
  readonly failed: (firm: ListedFirm, error: unknown) => void;
  /** Asked before each firm: the rest is left out once it says true. */
  readonly ended?: () => boolean;
}

export interface FirmsDone {
  readonly firms: number;
  readonly failed: number;
}

export async function allFirms({ owner }: Pick<Database, 'owner'>): Promise<ListedFirm[]> {
  const connection = await owner();
  return listFirms(connection).finally(() => connection.end());
}

/**
 * Goes through all firms, one after the other. What fails in one is told and does not reach the next: the records of a
 * firm are no reason to leave another without its upgrade.
 *
 * @throws where the firms cannot be listed
 */
export async function eachFirm(
  database: Pick<Database, 'owner'>,
  { step, failed, ended }: EachFirm,
): Promise<FirmsDone> {
  const done = { firms: 0, failed: 0 };
  for (const firm of await allFirms(database)) {
    if (ended?.()) break;
    done.firms += 1;
    await step(firm).catch((error: unknown) => {
      done.failed += 1;
      failed(firm, error);
    });
  }
  return done;
}

/** What is said of an error in a log or by a command. */
export function saidOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
