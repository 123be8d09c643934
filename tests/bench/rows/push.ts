import { CLIENTS, type Ground } from '../ground.ts';
import { sideOf } from '../meter.ts';
import { type Push, READINGS_PER_PURGE, Reader } from '../readings.ts';
import { type Round, type Row, roundOf } from '../row.ts';
import type { WrittenGroup } from '../sides/captured-rows.ts';
import { pushOverHttp } from '../sides/http-push.ts';

export const BATCH = 100;
/** Why who goes first cannot change there from round to round. */
export const OURS_FIRST = 'ours goes first in every round, since the other side writes the rows that it wrote';
const WHAT = `push, batches of ${BATCH} from ${CLIENTS} clients, one feed`;

/** Pushes of so many readings for every phone, over purges that were opened for them. */
export async function readyPushes(ground: Ground, pushes: number, mutations: number): Promise<Push[][]> {
  const each = Math.ceil((pushes * mutations) / READINGS_PER_PURGE);
  const open = await ground.firm.openPurges(each * CLIENTS);
  return ground.phones.map((phone, index) => {
    const own = open.slice(index * each, (index + 1) * each);
    return new Reader(ground.firm, phone, own).pushes(pushes, mutations);
  });
}

function readingTexts(groups: readonly WrittenGroup[]): string[] {
  return groups.flatMap(({ ledger }) =>
    ledger.flatMap((row) => (row.kind === 'reading' && row.state ? [row.state] : [])),
  );
}

/** One round: the server, then a bare script with the rows that it wrote, then one table with the same texts. */
export async function pushRound(ground: Ground, batches: number): Promise<{ bare: Round; raw: Round }> {
  const pushes = await readyPushes(ground, batches, BATCH);
  await ground.bare.write(await ground.bare.captured());
  const readings = batches * BATCH * CLIENTS;
  await ground.postgres.calm();
  const own = sideOf(readings, await pushOverHttp(ground, pushes));
  const groups = await ground.bare.captured();
  await ground.postgres.calm();
  const bare = sideOf(readings, await ground.meter(() => ground.bare.write(groups)));
  await ground.postgres.calm();
  const raw = sideOf(readings, await ground.raw.upsert(ground.meter, readingTexts(groups), BATCH, CLIENTS));
  return { bare: roundOf(own, bare), raw: roundOf(own, raw) };
}

export function pushRows(rounds: readonly { bare: Round; raw: Round }[]): Row[] {
  const common = { name: WHAT, unit: 'readings/s', measure: 'rate' } as const;
  return [
    {
      ...common,
      notes: rounds.length === 0 ? [] : [OURS_FIRST],
      against: 'a bare script, same rows, same tables',
      target: 0.6,
      rounds: rounds.map((one) => one.bare),
    },
    { ...common, against: 'raw PostgreSQL upsert of one table', target: 0.2, rounds: rounds.map((one) => one.raw) },
  ];
}
