import { PrismaPg } from '@prisma/adapter-pg';
import type pg from 'pg';
import { Prisma, PrismaClient } from './generated/client.ts';
import { OtherTables } from './newer-tables.ts';

/** An open read of one firm through Prisma. */
export interface RecordsTx {
  readonly db: Prisma.TransactionClient;
  readonly firm: string;
}

/** Plain typed reads of what is stored, over the pool that everything else uses. */
export interface Records {
  /**
   * One transaction on one connection; row-level security shows nothing of any other firm. Each statement sees what is
   * committed when it begins: a head read first names a row of the ledger, and those never change.
   */
  read<Result>(firm: string, work: (tx: RecordsTx) => Promise<Result>): Promise<Result>;
  close(): Promise<void>;
}

/** No connection in time, a transaction that took too long, too many connections, a server that went away. */
const BUSY = new Set(['P1001', 'P1002', 'P1008', 'P1017', 'P2024', 'P2028', 'P2037', 'P2039']);

/** Prisma found the database busy or away; the code is the one by which the store knows such a fault. */
export class DatabaseBusy extends Error {
  readonly code = 'ETIMEDOUT';
}

/** A table or a column that is not there. */
const OTHER_TABLES = new Set(['P2021', 'P2022']);

function translated(error: unknown): unknown {
  if (error instanceof Prisma.PrismaClientKnownRequestError && OTHER_TABLES.has(error.code)) {
    return new OtherTables(`Prisma: ${error.message}`, { cause: error });
  }
  const known = error instanceof Prisma.PrismaClientKnownRequestError && BUSY.has(error.code);
  if (!known && !(error instanceof Prisma.PrismaClientInitializationError)) return error;
  return new DatabaseBusy(`Prisma: ${error.message}`, { cause: error });
}

/** How long a read waits for a connection, and how long it may take: less than a request may. */
const PATIENCE = { maxWait: 10_000, timeout: 15_000 };

export function openRecords(pool: pg.Pool): Records {
  const prisma = new PrismaClient({ adapter: new PrismaPg(pool) });
  return {
    async read(firm, work) {
      try {
        return await prisma.$transaction(async (db) => {
          await db.$queryRaw`select set_config('wellround.firm', ${firm}, true)`;
          return work({ db, firm });
        }, PATIENCE);
      } catch (error) {
        throw translated(error);
      }
    },
    // the pool is not Prisma's to end
    close: () => prisma.$disconnect(),
  };
}
