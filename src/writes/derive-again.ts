import type pg from 'pg';
import { Overlay } from '../rules/overlay.ts';
import { faultOf } from '../store/fault.ts';
import { feedNames, type HeadEntry, headsOf } from '../store/read/ledger-rows.ts';
import { inRead } from '../store/read/transaction.ts';
import { inWrite, type WriteTx } from '../store/write/transaction.ts';
import { derive } from './derive.ts';
import { gatherUntouched, type Untouched } from './gather.ts';
import { type Draft, openGroup } from './group.ts';
import { GroupWriter } from './group-writer.ts';
import { loadDaysOfDevices } from './load-clock-days.ts';

/** What a step derives anew. */
interface Work extends Untouched {
  readonly devices: readonly string[];
}

interface Item {
  readonly as: keyof Work;
  readonly id: string;
}

/** How many derived records of a kind were written or taken back. */
export interface KindChanges {
  readonly written: number;
  readonly withdrawn: number;
}

export type ChangesByKind = ReadonlyMap<string, KindChanges>;

/** So many visits or other records share a transaction: whoever records meanwhile waits for one step at most. */
const ITEMS_A_STEP = 20;
/** A busy server may keep a step waiting too long; nothing is lost by another try. */
const TRIES = 4;

const CLAIMS = ['well-claim', 'sign-out'];

/** What something may follow from, among the records that live in a feed. */
function itemsOf(heads: readonly HeadEntry[]): Item[] {
  const here = heads.filter(({ gone }) => !gone);
  const ofKinds = (...kinds: string[]) => here.filter(({ kind }) => kinds.includes(kind)).map(({ id }) => id);
  const claims = ofKinds(...CLAIMS);
  const changed = here.filter(({ visit, merge }) => visit === null && merge !== null).map(({ id }) => id);
  const contested = here.filter(({ kind, visit }) => kind === 'conflict' && visit === null);
  const others = new Set([...changed, ...contested.flatMap(({ parent }) => parent ?? [])]);
  for (const claim of claims) others.delete(claim);
  const items = (as: keyof Work, ids: Iterable<string>) => [...ids].map((id): Item => ({ as, id }));
  return [
    ...items('visits', ofKinds('visit')),
    ...items('claims', claims),
    ...items('others', others),
    ...items('units', ofKinds('unit')),
    ...items('events', ofKinds('event')),
    ...items('devices', ofKinds('device')),
  ];
}

function workOf(items: readonly Item[]): Work {
  const ids = (as: keyof Work) => items.filter((item) => item.as === as).map(({ id }) => id);
  return {
    visits: ids('visits'),
    claims: ids('claims'),
    others: ids('others'),
    units: ids('units'),
    events: ids('events'),
    devices: ids('devices'),
  };
}

/** Everything is loaded after the lock of the firm was granted: what is derived is derived from the truth. */
async function deriveWork(tx: WriteTx, work: Work, now: string): Promise<readonly Draft[]> {
  const [overlay, hashes] = [new Overlay(), new Map<string, Buffer>()];
  const gathered = await gatherUntouched(tx, overlay, hashes, work);
  const nobody = { clients: new Map(), receipts: new Map(), batches: [], fresh: [] };
  const group = openGroup({ overlay, hashes, gathered, ...nobody });
  const days = await loadDaysOfDevices(tx, group, work.devices);
  await derive(tx, group, days);
  await new GroupWriter(tx, group, now).finish();
  return group.drafts;
}

async function step(pool: pg.Pool, firm: string, work: Work, now: string): Promise<readonly Draft[]> {
  for (let tries = 1; ; tries++) {
    try {
      return await inWrite(pool, firm, (tx) => deriveWork(tx, work, now));
    } catch (error) {
      if (faultOf(error) !== 'transient' || tries >= TRIES) throw error;
    }
  }
}

function count(changes: Map<string, KindChanges>, { held, withdrawn }: Draft): void {
  const { kind } = held.state;
  const known = changes.get(kind) ?? { written: 0, withdrawn: 0 };
  const [written, gone] = withdrawn ? [0, 1] : [1, 0];
  changes.set(kind, { written: known.written + written, withdrawn: known.withdrawn + gone });
}

/**
 * Derives the assessments, flags, conflicts and summaries of a firm by the rules of today, and writes those that differ
 * from what is stored as the write door would: in small transactions under the lock of the firm, at the tail of their
 * feeds. Made for a database whose records were derived by an older version; done again, it changes nothing, and what
 * was interrupted goes on where it differs.
 */
export async function deriveAgain(pool: pg.Pool, firm: string, now: () => Date): Promise<ChangesByKind> {
  const changes = new Map<string, KindChanges>();
  for (const feed of await inRead(pool, firm, feedNames)) {
    const items = itemsOf(await inRead(pool, firm, (tx) => headsOf(tx, feed)));
    for (let at = 0; at < items.length; at += ITEMS_A_STEP) {
      const work = workOf(items.slice(at, at + ITEMS_A_STEP));
      for (const draft of await step(pool, firm, work, now().toISOString())) count(changes, draft);
    }
  }
  return changes;
}
