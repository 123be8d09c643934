import DataLoader from 'dataloader';
import { kindNamed } from '../../protocol/kinds-by-name.ts';
import { id as uuid } from '../../protocol/primitives.ts';
import { type CrewInTouch, crewsInTouch } from '../../reads/crews-in-touch.ts';
import { type HolderTold, holdersOf } from '../../reads/equipment-status.ts';
import { eventStatuses } from '../../reads/event-status.ts';
import type { EventStatus } from '../../reads/event-status-result.ts';
import { feedsInSight } from '../../reads/feeds-in-sight.ts';
import type { PageArgs } from '../../reads/page-args.ts';
import type { Reader } from '../../reads/reader.ts';
import {
  countOfAll,
  countsUnder,
  pageOfAll,
  pagesUnder,
  type RecordList,
  type RecordListPage,
} from '../../reads/record-list.ts';
import type { Snapshot } from '../../reads/snapshot.ts';
import { equipmentOfUnits, type UnitEquipment } from '../../reads/unit-equipment.ts';
import { unitsNow } from '../../reads/unit-now.ts';
import { recordsOfWells } from '../../reads/well-history.ts';
import type { UnitStateTold } from '../../rules/equipment-told/unit-state-told.ts';
import type { WellRecords } from '../../rules/well-rounds/well-records.ts';
import type { RecordRelation } from '../../store/read/record-relations.ts';
import { type RecordRow, recordStates } from '../../store/read/record-states.ts';
import type { ReadTx } from '../../store/read/transaction.ts';

type Feeds = readonly string[] | null;
type Question<Value> = (tx: ReadTx, feeds: Feeds, keys: readonly string[]) => Promise<readonly Value[]>;
export type ListUnder = RecordList & { readonly relation: RecordRelation };

async function recordsOf(tx: ReadTx, feeds: Feeds, ids: readonly string[]): Promise<(RecordRow | null)[]> {
  const rows = new Map((await recordStates(tx, ids, feeds)).map((row) => [row.id, row]));
  return ids.map((id) => rows.get(id) ?? null);
}

async function statusesOf(tx: ReadTx, feeds: Feeds, events: readonly string[]): Promise<(EventStatus | null)[]> {
  const statuses = await eventStatuses(tx, events, feeds);
  return events.map((event) => statuses.get(event) ?? null);
}

async function touchOf(tx: ReadTx, _feeds: Feeds, crews: readonly string[]): Promise<(CrewInTouch | null)[]> {
  const inTouch = await crewsInTouch(tx, crews);
  return crews.map((crew) => inTouch.get(crew) ?? null);
}

/**
 * Everything that one request reads: from one snapshot, and each question once for all who ask it at the same depth of
 * the answer. What the reader may not see is not there.
 */
export class Reads {
  readonly #snapshot: Snapshot;
  readonly #reader: Reader;
  #feeds: Promise<Feeds> | null = null;
  #loaders = new Map<string, DataLoader<string, unknown>>();

  constructor(snapshot: Snapshot, reader: Reader) {
    this.#snapshot = snapshot;
    this.#reader = reader;
  }

  /** After a write: what was read before may be out of date. */
  async renew(): Promise<void> {
    await this.#snapshot.renew();
    this.#feeds = null;
    this.#loaders = new Map();
  }

  async ask<Value>(question: (tx: ReadTx, feeds: Feeds) => Promise<Value>): Promise<Value> {
    this.#feeds ??= this.#snapshot.read((tx) => feedsInSight(tx, this.#reader));
    const feeds = await this.#feeds;
    return this.#snapshot.read((tx) => question(tx, feeds));
  }

  /** The record under an id; null where there is none, or none of the kind expected, or none that may be seen. */
  async record(id: unknown, kind: string | null = null): Promise<RecordRow | null> {
    if (!uuid.safeParse(id).success) return null;
    const row = await this.#load('record', String(id), recordsOf);
    return row && kindNamed(row.kind) && (kind === null || row.kind === kind) ? row : null;
  }

  page(list: RecordList, args: PageArgs): Promise<RecordListPage> {
    return this.ask((tx, feeds) => pageOfAll(tx, feeds, list, args));
  }

  count(list: RecordList): Promise<number> {
    return this.ask((tx, feeds) => countOfAll(tx, feeds, list));
  }

  pageUnder(list: ListUnder, parent: string, args: PageArgs): Promise<RecordListPage> {
    const name = `page ${JSON.stringify([list, args])}`;
    return this.#load(name, parent, (tx, feeds, parents) => pagesUnder(tx, feeds, list, parents, args));
  }

  countUnder(list: ListUnder, parent: string): Promise<number> {
    const name = `count ${JSON.stringify(list)}`;
    return this.#load(name, parent, (tx, feeds, parents) => countsUnder(tx, feeds, list, parents));
  }

  status(event: string): Promise<EventStatus | null> {
    return this.#load('status', event, statusesOf);
  }

  inTouch(crew: string): Promise<CrewInTouch | null> {
    return this.#load('in touch', crew, touchOf);
  }

  /** What is told of the earlier rounds of a well that the reader may see. */
  roundsOf(well: string): Promise<WellRecords> {
    return this.#load('rounds', well, (tx, _feeds, wells) => recordsOfWells(tx, wells));
  }

  /** Where a unit stands, as it was derived; null where nothing was. */
  unitNow(unit: string): Promise<UnitStateTold | null> {
    return this.#load('unit now', unit, (tx, _feeds, units) => unitsNow(tx, units));
  }

  /** Who has a unit. */
  holdersOf(unit: string): Promise<HolderTold[]> {
    return this.#load('holders', unit, (tx, _feeds, units) => holdersOf(tx, units));
  }

  /** The history of a unit that the reader may see, read once for all that is asked of it. */
  equipmentOf(unit: string): Promise<UnitEquipment> {
    return this.#load('equipment', unit, async (tx, _feeds, units) => {
      const equipment = await equipmentOfUnits(tx, units);
      return units.map(() => equipment);
    });
  }

  /** One loader a question: those who ask it in the same turn are answered by one statement. */
  #load<Value>(name: string, key: string, question: Question<Value>): Promise<Value> {
    const known = this.#loaders.get(name) as DataLoader<string, Value> | undefined;
    const loader = known ?? new DataLoader<string, Value>((keys) => this.ask((tx, feeds) => question(tx, feeds, keys)));
    if (!known) this.#loaders.set(name, loader as DataLoader<string, unknown>);
    return loader.load(key);
  }
}
