import { randomUUID } from 'node:crypto';
import { equipmentOfUnits } from '../../../src/reads/unit-equipment.ts';
import { unitTrail } from '../../../src/reads/unit-history.ts';
import { inRead } from '../../../src/store/read/transaction.ts';
import type { BenchDatabase } from '../bench-postgres.ts';
import type { Ground, Size } from '../ground.ts';
import { alternating, type InTurn } from '../in-turn.ts';
import type { Round, Row } from '../row.ts';
import { noting, replay, type Statement } from '../sides/captured-statements.ts';
import { median } from '../statistics.ts';
import { loadYear } from '../year/load-year.ts';
import { SHORT_YEAR, YEAR, YearOfRecords, type YearSize } from '../year/year-states.ts';

/** A year of a firm in a database of its own, and the statements that the trail of each unit takes. */
export interface UnitTrailSides {
  readonly database: BenchDatabase;
  readonly firm: string;
  readonly units: readonly string[];
  readonly statements: ReadonlyMap<string, readonly Statement[]>;
  readonly inTurn: InTurn;
}

function yearOf({ isQuick }: Size): YearSize {
  return isQuick ? SHORT_YEAR : YEAR;
}

async function trailOf(database: Pick<BenchDatabase, 'pool'>, firm: string, unit: string): Promise<number> {
  const trail = await inRead(database.pool, firm, async (tx) =>
    unitTrail(tx, null, await equipmentOfUnits(tx, [unit]), unit, {}),
  );
  return trail.wells.length;
}

export async function openUnitTrail(ground: Ground): Promise<UnitTrailSides> {
  const database = await ground.postgres.create('bench_year', true);
  const firm = randomUUID();
  const year = new YearOfRecords(yearOf(ground.size));
  const owner = await database.owner();
  await loadYear(database.pool, owner, firm, year).finally(() => owner.end());
  const units = year.units.slice(0, 5);
  const statements = new Map<string, Statement[]>();
  for (const unit of units) {
    const its: Statement[] = [];
    const wells = await trailOf({ pool: noting(database.pool, its) }, firm, unit);
    if (wells !== YEAR.stays) throw new Error(`the trail of a unit tells ${wells} wells, it was at ${YEAR.stays}`);
    statements.set(unit, its);
  }
  return { database, firm, units, statements, inTurn: alternating() };
}

async function timed(work: () => Promise<unknown>): Promise<number> {
  const begun = performance.now();
  await work();
  return performance.now() - begun;
}

/** One round: the trail of each of some units, its history loaded and put in order, and its statements alone. */
export async function unitTrailRound({ database, firm, units, statements, inTurn }: UnitTrailSides): Promise<Round> {
  const [own, other]: [number[], number[]] = [[], []];
  for (const unit of units) {
    const took = await inTurn(
      () => timed(() => trailOf(database, firm, unit)),
      () => timed(() => replay(database.pool, statements.get(unit) ?? [])),
    );
    own.push(took.own);
    other.push(took.other);
  }
  return { own: median(own), other: median(other) };
}

const MOST_MS = 100;

export function unitTrailRows(rounds: readonly Round[], size: Size): readonly Row[] {
  const { units, stays } = yearOf(size);
  const name = `trail of a unit over a year, ${stays} stays of ${(units * stays).toLocaleString('en')}`;
  const common = { name, unit: 'ms', rounds } as const;
  return [
    { ...common, against: '-', measure: 'absolute', target: MOST_MS },
    { ...common, against: 'its own SQL alone', measure: 'time', target: 3 },
  ];
}
