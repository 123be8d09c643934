import { v7 } from 'uuid';
import type { Reader } from '../../../src/reads/reader.ts';
import { newSecret, secretHash } from '../../../src/store/tokens.ts';
import { insertToken } from '../../../src/store/write/token-rows.ts';
import type { Draft } from '../../support/test-firm.ts';
import { BenchFirm, pushAll } from '../bench-firm.ts';
import type { BenchDatabase } from '../bench-postgres.ts';
import { type Child, startChild } from '../child.ts';
import type { Cleanup } from '../cleanup.ts';
import { type Ground, serverEnvironment } from '../ground.ts';
import { type Meter, meterOf } from '../meter.ts';
import { loadRecords } from '../year/load-year.ts';
import { RoundOfSamples, SUITES } from './round-of-samples.ts';

const CREWS = 10;

/** Somebody who asks, by the doors and past them. */
export interface Asking {
  readonly reader: Reader;
  readonly headers: Readonly<Record<string, string>>;
}

/** An event of 5,000 bottles in a database of its own, with a server that does nothing else. */
export interface SampleGround {
  readonly database: BenchDatabase;
  readonly server: Child;
  readonly event: string;
  readonly crews: readonly string[];
  readonly coolers: readonly string[];
  readonly office: Asking;
  readonly laboratory: Asking;
  readonly meter: Meter;
}

async function asking(
  database: BenchDatabase,
  firm: string,
  role: 'dashboard' | 'laboratory',
  laboratory: string | null,
): Promise<Asking> {
  const [id, secret] = [v7(), newSecret()];
  const row = { firm, id, hash: secretHash(secret), label: role, role, device: null, laboratory };
  await insertToken(database.pool, { ...row, createdAt: new Date().toISOString(), expiresAt: null });
  const reader = { firm, token: id, role, device: null, laboratory };
  return { reader, headers: { authorization: `Bearer ${secret}` } };
}

async function load(database: BenchDatabase, bench: BenchFirm): Promise<{ round: RoundOfSamples; given: Given }> {
  const crews = Array.from({ length: CREWS }, () => v7());
  const laboratory = v7();
  const receiving = [{ day: 'tuesday', from: '08:00', until: '17:00' }];
  const suites = [...SUITES].map(([name, groups]): Draft => {
    const set = { name, groups: [...groups].map((group) => ({ group })), turnaroundDays: 10 };
    return { kind: 'analyte-suite', set };
  });
  await pushAll(bench.admin, [
    { kind: 'laboratory', id: laboratory, set: { name: 'Testlab', timeZone: 'America/Chicago', receiving } },
    ...crews.map((id, index): Draft => ({ kind: 'crew', id, set: { name: `Crew ${index + 1}` } })),
    ...suites,
  ]);
  const { site, ann } = bench.firm.ids;
  const round = new RoundOfSamples({ site, wells: bench.wells, person: ann, crews, laboratory }, Date.now());
  const owner = await database.owner();
  await loadRecords(database.pool, owner, bench.firm.id, [round.records()]).finally(() => owner.end());
  return { round, given: { crews, laboratory } };
}

interface Given {
  readonly crews: readonly string[];
  readonly laboratory: string;
}

export async function openSampleGround(cleanup: Cleanup, ground: Ground): Promise<SampleGround> {
  const database = await ground.postgres.create('bench_samples', true);
  const bench = await BenchFirm.setUp(database.pool);
  const { round, given } = await load(database, bench);
  const server = await startChild(cleanup, 'src/main.ts', serverEnvironment(database));
  const { id: firm } = bench.firm;
  return {
    database,
    server,
    event: round.event,
    crews: given.crews,
    coolers: round.coolers,
    office: await asking(database, firm, 'dashboard', null),
    laboratory: await asking(database, firm, 'laboratory', given.laboratory),
    meter: meterOf([process.pid, ground.postgres.pid, server.pid]),
  };
}
