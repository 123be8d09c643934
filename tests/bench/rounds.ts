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
import { openSamples, SAMPLE_ROWS, type SampleSides } from './rows/samples.ts';
import { samplingPlanRow } from './rows/sampling-plan.ts';
import { singleRound, singleRow } from './rows/single.ts';
import { openUnitTrail, type UnitTrailSides, unitTrailRound, unitTrailRows } from './rows/unit-trail.ts';
import { Spent } from './spent.ts';

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
  readonly samples: SampleSides | null;
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

type Wanted = (row: string) => boolean;

/** Rows that write to the feed of the event or read it. */
const ON_THE_FEED = ['push', 'single', 'bootstrap', 'status', 'doorbell', 'live', ...PEER_ROWS];

async function twice(work: () => Promise<unknown>): Promise<void> {
  await work();
  await work();
}

/** Rounds that nobody counts: the first statements are planned, and the first functions compiled, in them. */
async function warmUp(cleanup: Cleanup, ground: Ground, wanted: Wanted, { timed }: Spent): Promise<Sides> {
  say('warming up');
  const { batches, singles } = ground.size;
  const opened = <T>(row: string, work: () => Promise<T>) => (wanted(row) ? timed(row, work) : Promise.resolve(null));
  if (ON_THE_FEED.some(wanted)) await timed('push', () => twice(() => pushRound(ground, Math.min(batches, 6))));
  await opened('single', () => twice(() => singleRound(ground, Math.min(singles, 6))));
  const status = await opened('status', () => openEventStatus(ground));
  if (status) await timed('status', () => eventStatusRound(ground, status));
  const doorbell = await opened('doorbell', () => openDoorbell(cleanup, ground));
  const live = await opened('live', () => openLive(cleanup, ground));
  const bootstrap = await opened('bootstrap', () => openBootstrap(cleanup, ground));
  const trail = await opened('trail', () => openUnitTrail(ground));
  if (trail) await timed('trail', () => unitTrailRound(trail));
  const samples = await timed(SAMPLE_ROWS.join('+'), () => openSamples(cleanup, ground, wanted));
  const peer = await timed('peer', () => openPeer(cleanup, ground, wanted, say));
  return { status, doorbell, live, bootstrap, trail, samples, peer };
}

async function oneRound(ground: Ground, found: Found, sides: Sides, wanted: Wanted, { timed }: Spent): Promise<void> {
  const { bootstrap, status, doorbell, live, trail, samples, peer } = sides;
  const { batches, singles } = ground.size;
  if (wanted('push')) found.push.push(await timed('push', () => pushRound(ground, batches)));
  if (wanted('single')) found.single.push(await timed('single', () => singleRound(ground, singles)));
  if (bootstrap) found.bootstrap.push(await timed('bootstrap', () => bootstrapRound(ground, bootstrap)));
  if (status) found.status.push(await timed('status', () => eventStatusRound(ground, status)));
  if (doorbell) found.doorbell.push(await timed('doorbell', () => doorbellRound(ground, doorbell, batches)));
  if (live) found.live.push(await timed('live', () => liveRound(ground, live)));
  if (trail) found.trail.push(await timed('trail', () => unitTrailRound(trail)));
  await samples?.round(timed);
  await timed('peer', () => peer.round());
}

function wantedBy({ only, peer }: Chosen): Wanted {
  const peers: readonly string[] = PEER_ROWS;
  return (row) => (only?.includes(row) ?? !peers.includes(row)) || (peer && peers.includes(row));
}

/** Measures every row, all sides of all rows once a round: what disturbs the machine disturbs both sides of a ratio. */
export async function measure(cleanup: Cleanup, ground: Ground, chosen: Chosen): Promise<Row[]> {
  const wanted = wantedBy(chosen);
  const found: Found = { push: [], single: [], bootstrap: [], status: [], doorbell: [], live: [], trail: [] };
  const spent = new Spent();
  const sides = await warmUp(cleanup, ground, wanted, spent);
  for (let round = 1; round <= ground.size.rounds; round++) {
    say(`round ${round} of ${ground.size.rounds}`);
    await oneRound(ground, found, sides, wanted, spent);
  }
  await spent.timed('check of the rows written', async () => {
    await ground.bare.write(await ground.bare.captured());
    await ground.bare.check();
  });
  say(spent.text());
  return [
    ...pushRows(found.push),
    singleRow(found.single),
    bootstrapRow(found.bootstrap),
    assessmentRow(wanted('assessment') ? ground.size.rounds : 0),
    samplingPlanRow(wanted('plan') ? ground.size.rounds : 0),
    eventStatusRow(found.status),
    doorbellRow(found.doorbell),
    liveRow(found.live),
    ...unitTrailRows(found.trail, ground.size),
    ...(sides.samples?.rows() ?? []),
    ...sides.peer.rows(),
  ];
}
