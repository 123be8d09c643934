import type { Cleanup } from './cleanup.ts';
import type { Ground } from './ground.ts';
import type { Round, Row } from './row.ts';
import { assessmentRow } from './rows/assessment.ts';
import { type BootstrapSides, bootstrapRound, bootstrapRow, openBootstrap } from './rows/bootstrap.ts';
import { eventStatusRow } from './rows/event-status.ts';
import { pushRound, pushRows } from './rows/push.ts';
import { singleRound, singleRow } from './rows/single.ts';

interface Found {
  readonly push: { bare: Round; raw: Round }[];
  readonly single: Round[];
  readonly bootstrap: Round[];
}

function say(text: string): void {
  process.stderr.write(`${text}\n`);
}

/** Rounds that nobody counts: the first statements are planned, and the first functions compiled, in them. */
async function warmUp(cleanup: Cleanup, ground: Ground, wanted: (row: string) => boolean) {
  say('warming up');
  await pushRound(ground, Math.min(ground.size.batches, 6));
  if (wanted('single')) await singleRound(ground, Math.min(ground.size.singles, 50));
  return wanted('bootstrap') ? openBootstrap(cleanup, ground) : null;
}

async function oneRound(ground: Ground, found: Found, sides: BootstrapSides | null, wanted: (row: string) => boolean) {
  if (wanted('push')) found.push.push(await pushRound(ground, ground.size.batches));
  if (wanted('single')) found.single.push(await singleRound(ground, ground.size.singles));
  if (sides) found.bootstrap.push(await bootstrapRound(ground, sides));
}

/** Measures every row, all sides of all rows once a round: what disturbs the machine disturbs both sides of a ratio. */
export async function measure(cleanup: Cleanup, ground: Ground, only: readonly string[] | null): Promise<Row[]> {
  const wanted = (row: string) => only === null || only.includes(row);
  const found: Found = { push: [], single: [], bootstrap: [] };
  const sides = await warmUp(cleanup, ground, wanted);
  for (let round = 1; round <= ground.size.rounds; round++) {
    say(`round ${round} of ${ground.size.rounds}`);
    await oneRound(ground, found, sides, wanted);
  }
  await ground.bare.check();
  // Further peers, such as a document database on the same disk, are rows beside these: a side in sides/, a row in
  // rows/, and one line here.
  return [
    ...pushRows(found.push),
    singleRow(found.single),
    bootstrapRow(found.bootstrap),
    assessmentRow(ground.size.rounds),
    eventStatusRow(),
  ];
}
