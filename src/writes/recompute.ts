import { isDeepStrictEqual } from 'node:util';
import type pg from 'pg';
import { kindNamed } from '../protocol/kinds-by-name.ts';
import type { Derived } from '../rules/derive/derived.ts';
import { isOfEquipment } from '../rules/derive/equipment-derived.ts';
import { fieldConflicts } from '../rules/derive/field-conflicts.ts';
import { visitDerived } from '../rules/derive/visit-derived.ts';
import type { Held } from '../rules/held.ts';
import { Overlay } from '../rules/overlay.ts';
import { type Anchor, anchorsOf, clockDaysOf, feedNames } from '../store/read/ledger-rows.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { allClaimKeys, claimConflicts } from './derive-claims.ts';
import { deviceClockFlags } from './derive-clocks.ts';
import type { Difference } from './difference.ts';
import { EquipmentOfFirm } from './equipment/equipment-of-firm.ts';
import { type Departure, readLedgerFeed } from './ledger-feed.ts';

/** What follows from the records of a feed; the world has all that they refer to. */
function derivedOf(firm: string, held: readonly Held[], world: Overlay): Derived[] {
  const base = held.filter((one) => kindNamed(one.state.kind)?.family !== 'derived');
  const visits = base.filter((one) => one.state.kind === 'visit');
  const elsewhere = base.filter((one) => one.visit === null);
  return [
    ...visits.flatMap((visit) => visitDerived(firm, visit.state.id, world)),
    ...elsewhere.flatMap((one) => fieldConflicts(firm, one)),
    ...allClaimKeys(base).flatMap((key) => claimConflicts(firm, key, world)),
  ];
}

function differingFields(stored: Held['state']['fields'], wanted: Derived['fields']): string {
  const names = [...new Set([...Object.keys(stored), ...Object.keys(wanted)])].sort();
  const differing = names.filter((name) => !isDeepStrictEqual(stored[name], wanted[name]));
  return `it says otherwise in ${differing.join(', ')}`;
}

function compare(feed: string, held: readonly Held[], wanted: readonly Derived[]): Difference[] {
  const derived = held.filter((one) => kindNamed(one.state.kind)?.family === 'derived');
  const stored = new Map(derived.map((one) => [one.state.id, one]));
  const after = new Set(wanted.map((one) => one.id));
  const missing = wanted.flatMap(({ kind, id, fields }): Difference[] => {
    const found = stored.get(id)?.state.fields;
    // a JSON text has no undefined, a freshly derived record may
    const plain = JSON.parse(JSON.stringify(fields)) as Derived['fields'];
    if (found && isDeepStrictEqual(found, plain)) return [];
    const detail = found ? differingFields(found, plain) : 'it follows from the records but is not stored';
    return [{ feed, kind, id, what: 'derived', detail }];
  });
  const left = derived.filter((one) => !after.has(one.state.id));
  const detail = 'nothing gives rise to it';
  const over = left.map(({ state }): Difference => ({ feed, kind: state.kind, id: state.id, what: 'derived', detail }));
  return [...missing, ...over];
}

function isSummary({ state }: Held): boolean {
  return state.kind === 'visit-summary';
}

/** Spread as arguments, what a large feed holds is more than a call takes. */
function addAll<Item>(to: Item[], items: Iterable<Item>): void {
  for (const item of items) to.push(item);
}

class Recompute {
  readonly #tx: ReadTx;
  readonly #anchors: readonly Anchor[];
  readonly #shared: Held[] = [];
  /** Derived records that live in the feed of a site and follow from the records of events: they are compared last. */
  readonly #ofSites = new Map<string, { readonly held: Held[]; readonly wanted: Derived[] }>();
  readonly #equipment = new EquipmentOfFirm();
  readonly differences: Difference[] = [];
  readonly departures: Departure[] = [];
  readonly tails = new Map<string, number>();

  constructor(tx: ReadTx, anchors: readonly Anchor[]) {
    this.#tx = tx;
    this.#anchors = anchors;
  }

  /** The firm and its sites, which the records of every event refer to. */
  async shared(feeds: readonly string[]): Promise<void> {
    const world = new Overlay();
    const read: { feed: string; held: readonly Held[] }[] = [];
    for (const feed of feeds) read.push({ feed, held: await this.#read(feed, world) });
    for (const { held } of read) addAll(this.#shared, held);
    const days = await clockDaysOf(this.#tx);
    for (const { feed, held } of read) {
      const clocks = feed === 'firm' ? deviceClockFlags(this.#tx.firm, days, world) : [];
      const [summaries, others] = [held.filter(isSummary), held.filter((one) => !isSummary(one))];
      addAll(this.#ofSite(feed).held, summaries);
      this.#compare(feed, others, [...derivedOf(this.#tx.firm, others, world), ...clocks]);
    }
  }

  async event(feed: string): Promise<void> {
    const world = new Overlay();
    for (const held of this.#shared) world.put(held);
    const held = await this.#read(feed, world);
    const wanted = derivedOf(this.#tx.firm, held, world);
    for (const one of wanted) if (one.feed !== feed) this.#ofSite(one.feed).wanted.push(one);
    this.#compare(
      feed,
      held,
      wanted.filter((one) => one.feed === feed),
    );
  }

  /** Once all events were looked at. */
  sites(): void {
    for (const [feed, { held, wanted }] of this.#ofSites) this.#compare(feed, held, wanted);
  }

  /** Units go from site to site: what follows of them is compared last too. */
  equipment(): void {
    for (const { feed, stored, wanted } of this.#equipment.compared(this.#tx.firm)) this.#compare(feed, stored, wanted);
  }

  #ofSite(feed: string) {
    const known = this.#ofSites.get(feed) ?? { held: [], wanted: [] };
    this.#ofSites.set(feed, known);
    return known;
  }

  async #read(feed: string, world: Overlay): Promise<readonly Held[]> {
    const { held, differences, departures, tail } = await readLedgerFeed(
      this.#tx,
      feed,
      world,
      this.#anchors.filter((anchor) => anchor.feed === feed),
    );
    addAll(this.differences, differences);
    addAll(this.departures, departures);
    this.tails.set(feed, tail);
    this.#equipment.take(feed, held);
    return held.filter((one) => !isOfEquipment(one));
  }

  #compare(feed: string, held: readonly Held[], wanted: readonly Derived[]): void {
    addAll(this.differences, compare(feed, held, wanted));
  }
}

/** What the ledger of a firm gives. */
export interface Recomputed {
  readonly differences: readonly Difference[];
  /** Rows that say that a record went to another feed. */
  readonly departures: readonly Departure[];
  /** The last row of each feed that has any, or had. */
  readonly tails: ReadonlyMap<string, number>;
}

export async function recomputeIn(tx: ReadTx): Promise<Recomputed> {
  const anchors = await anchorsOf(tx);
  // a feed of which nothing is left is looked for as well
  const feeds = [...new Set([...(await feedNames(tx)), ...anchors.map(({ feed }) => feed)])].sort();
  const events = feeds.filter((feed) => feed.startsWith('event:'));
  const work = new Recompute(tx, anchors);
  await work.shared(feeds.filter((feed) => !events.includes(feed)));
  for (const feed of events) await work.event(feed);
  work.sites();
  work.equipment();
  return work;
}

/**
 * Derives every assessment, flag, conflict and summary of a firm anew from its ledger, rebuilds what is remembered for merging,
 * and lists where something else is stored. The one thing that no ledger row tells, how far the clock of a device was
 * off on a day, is taken from where it is kept. An event at a time, so that a firm of many years fits in memory.
 */
export function recompute(pool: pg.Pool, firm: string): Promise<readonly Difference[]> {
  return inRead(pool, firm, async (tx) => (await recomputeIn(tx)).differences);
}
