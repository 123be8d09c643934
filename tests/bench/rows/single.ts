import { CLIENTS, type Ground } from '../ground.ts';
import { sideOf } from '../meter.ts';
import { type Round, type Row, roundOf } from '../row.ts';
import { pushOverHttp } from '../sides/http-push.ts';
import { OURS_FIRST, readyPushes } from './push.ts';

/** One round: every phone sends reading after reading as its crew makes them; then one table, one row a transaction. */
export async function singleRound(ground: Ground, singles: number): Promise<Round> {
  const pushes = await readyPushes(ground, singles, 1);
  await ground.bare.write(await ground.bare.captured());
  await ground.postgres.calm();
  const own = sideOf(singles * CLIENTS, await pushOverHttp(ground, pushes));
  const groups = await ground.bare.captured();
  const texts = groups.flatMap(({ ledger }) => ledger.filter((row) => row.kind === 'reading'));
  await ground.bare.write(groups);
  await ground.postgres.calm();
  const bodies = texts.flatMap((row) => row.state ?? []);
  return roundOf(own, sideOf(singles * CLIENTS, await ground.raw.upsert(ground.meter, bodies, 1, CLIENTS)));
}

export function singleRow(rounds: readonly Round[]): Row {
  const name = `single mutations, ${CLIENTS} at once, one feed`;
  return {
    name,
    against: 'raw PostgreSQL, one statement each',
    unit: 'mutations/s',
    measure: 'rate',
    target: 0.5,
    rounds,
    notes: rounds.length === 0 ? [] : [OURS_FIRST],
  };
}
