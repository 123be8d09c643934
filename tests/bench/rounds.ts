import type { Cleanup } from './cleanup.ts';
import type { Ground } from './ground.ts';
import type { Round, Row } from './row.ts';
import { assessmentRow } from './rows/assessment.ts';
import { type BootstrapSides, bootstrapRound, bootstrapRow, openBootstrap } from './rows/bootstrap.ts';
import { type DoorbellSides, doorbellRound, doorbellRow, openDoorbell } from './rows/doorbell.ts';
import { type EventStatusSides, eventStatusRound, eventStatusRow, openEventStatus } from './rows/event-status.ts';
import { type LiveSides, liveRound, liveRow, openLive } from './rows/live.ts';
import { openPeer, PEER_ROWS, type PeerSides } from './rows/peer.ts';
import { pushRound, pushRows } from './rows/push.ts';
import { samplingPlanRow } from './rows/sampling-plan.ts';
import { singleRound, singleRow } from './rows/single.ts';
import { openUnitTrail, type UnitTrailSides, unitTrailRound, unitTrailRows } from './rows/unit-trail.ts';

interface Found {
  readonly push: { bare: Round; raw: Round }[];
  readonly single: Round[];
  readonly bootstrap: Round[];
  readonly status: Round[];
  readonly doorbell: Round[];
  readonly live: Round[];
  readonly trail: Round[];
}

/** What is opened once for all rounds; null where it is not asked for. */
interface Sides {
  readonly bootstrap: BootstrapSides | null;
  readonly status: EventStatusSides | null;
  readonly doorbell: DoorbellSides | null;
  readonly live: LiveSides | null;
  readonly trail: UnitTrailSides | null;
  readonly peer: PeerSides;
}

/** What is to be measured. */
export interface Chosen {
  /** Rows by name; null for all that need nothing from outside. */
  readonly only: readonly string[] | null;
  /** Also the rows against the peer, which is installed for them. */
  readonly peer: boolean;
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
  const bootstrap = wanted('bootstrap') ? await openBootstrap(cleanup, ground) : null;
  const trail = wanted('trail') ? await openUnitTrail(ground) : null;
  if (trail) await unitTrailRound(trail);
  return { status, doorbell, live, bootstrap, trail, peer: await openPeer(cleanup, ground, wanted, say) };
}

async function oneRound(ground: Ground, found: Found, sides: Sides, wanted: (row: string) => boolean): Promise<void> {
  if (wanted('push')) found.push.push(await pushRound(ground, ground.size.batches));
  if (wanted('single')) found.single.push(await singleRound(ground, ground.size.singles));
  if (sides.bootstrap) found.bootstrap.push(await bootstrapRound(ground, sides.bootstrap));
  if (sides.status) found.status.push(await eventStatusRound(ground, sides.status));
  if (sides.doorbell) found.doorbell.push(await doorbellRound(ground, sides.doorbell, ground.size.batches));
  if (sides.live) found.live.push(await liveRound(ground, sides.live));
  if (sides.trail) found.trail.push(await unitTrailRound(sides.trail));
  await sides.peer.round();
}

function wantedBy({ only, peer }: Chosen): (row: string) => boolean {
  const peers: readonly string[] = PEER_ROWS;
  return (row) => (only?.includes(row) ?? !peers.includes(row)) || (peer && peers.includes(row));
}

/** Measures every row, all sides of all rows once a round: what disturbs the machine disturbs both sides of a ratio. */
export async function measure(cleanup: Cleanup, ground: Ground, chosen: Chosen): Promise<Row[]> {
  const wanted = wantedBy(chosen);
  const found: Found = { push: [], single: [], bootstrap: [], status: [], doorbell: [], live: [], trail: [] };
  const sides = await warmUp(cleanup, ground, wanted);
  for (let round = 1; round <= ground.size.rounds; round++) {
    say(`round ${round} of ${ground.size.rounds}`);
    await oneRound(ground, found, sides, wanted);
  }
  await ground.bare.write(await ground.bare.captured());
  await ground.bare.check();
  return [
    ...pushRows(found.push),
    singleRow(found.single),
    bootstrapRow(found.bootstrap),
    assessmentRow(wanted('assessment') ? ground.size.rounds : 0),
    samplingPlanRow(wanted('plan') ? ground.size.rounds : 0),
    eventStatusRow(found.status),
    doorbellRow(found.doorbell),
    liveRow(found.live),
    ...unitTrailRows(found.trail),
    ...sides.peer.rows(),
  ];
}
