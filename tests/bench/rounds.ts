import type { Cleanup } from './cleanup.ts';
import type { Ground } from './ground.ts';
import type { Round, Row } from './row.ts';
import { assessmentRow } from './rows/assessment.ts';
import { type BootstrapSides, bootstrapRound, bootstrapRow, openBootstrap } from './rows/bootstrap.ts';
import { type DoorbellSides, doorbellRound, doorbellRow, openDoorbell } from './rows/doorbell.ts';
import { type EventStatusSides, eventStatusRound, eventStatusRow, openEventStatus } from './rows/event-status.ts';
import { type LiveSides, liveRound, liveRow, openLive } from './rows/live.ts';
import { pushRound, pushRows } from './rows/push.ts';
import { singleRound, singleRow } from './rows/single.ts';

interface Found {
  readonly push: { bare: Round; raw: Round }[];
  readonly single: Round[];
  readonly bootstrap: Round[];
  readonly status: Round[];
  readonly doorbell: Round[];
  readonly live: Round[];
}

/** What is opened once for all rounds; null where it is not asked for. */
interface Sides {
  readonly bootstrap: BootstrapSides | null;
  readonly status: EventStatusSides | null;
  readonly doorbell: DoorbellSides | null;
  readonly live: LiveSides | null;
}

function say(text: string): void {
  process.stderr.write(`${text}\n`);
}

/** Rounds that nobody counts: the first statements are planned, and the first functions compiled, in them. */
async function warmUp(cleanup: Cleanup, ground: Ground, wanted: (row: string) => boolean): Promise<Sides> {
  say('warming up');
  for (let time = 0; time < 2; time++) await pushRound(ground, Math.min(ground.size.batches, 6));
  if (wanted('single')) for (let time = 0; time < 2; time++) await singleRound(ground, ground.size.singles);
  const status = wanted('status') ? await openEventStatus(ground) : null;
  if (status) await eventStatusRound(ground, status);
  const doorbell = wanted('doorbell') ? await openDoorbell(cleanup, ground) : null;
  const live = wanted('live') ? await openLive(cleanup, ground) : null;
  return { status, doorbell, live, bootstrap: wanted('bootstrap') ? await openBootstrap(cleanup, ground) : null };
}

async function oneRound(ground: Ground, found: Found, sides: Sides, wanted: (row: string) => boolean): Promise<void> {
  if (wanted('push')) found.push.push(await pushRound(ground, ground.size.batches));
  if (wanted('single')) found.single.push(await singleRound(ground, ground.size.singles));
  if (sides.bootstrap) found.bootstrap.push(await bootstrapRound(ground, sides.bootstrap));
  if (sides.status) found.status.push(await eventStatusRound(ground, sides.status));
  if (sides.doorbell) found.doorbell.push(await doorbellRound(ground, sides.doorbell, ground.size.batches));
  if (sides.live) found.live.push(await liveRound(ground, sides.live));
}

/** Measures every row, all sides of all rows once a round: what disturbs the machine disturbs both sides of a ratio. */
export async function measure(cleanup: Cleanup, ground: Ground, only: readonly string[] | null): Promise<Row[]> {
  const wanted = (row: string) => only === null || only.includes(row);
  const found: Found = { push: [], single: [], bootstrap: [], status: [], doorbell: [], live: [] };
  const sides = await warmUp(cleanup, ground, wanted);
  for (let round = 1; round <= ground.size.rounds; round++) {
    say(`round ${round} of ${ground.size.rounds}`);
    await oneRound(ground, found, sides, wanted);
  }
  await ground.bare.write(await ground.bare.captured());
  await ground.bare.check();
  // Further peers, such as a document database on the same disk, are rows beside these: a side in sides/, a row in
  // rows/, and one line here.
  return [
    ...pushRows(found.push),
    singleRow(found.single),
    bootstrapRow(found.bootstrap),
    assessmentRow(wanted('assessment') ? ground.size.rounds : 0),
    eventStatusRow(found.status),
    doorbellRow(found.doorbell),
    liveRow(found.live),
  ];
}
