import type { Role } from '../protocol/kind.ts';
import type { RecordState } from '../protocol/record.ts';
import type { MergeMemory } from './merge/merge-memory.ts';

/** A record with where it lives: what the write door loads, decides over and stores. */
export interface Held {
  readonly state: RecordState;
  readonly feed: string;
  /** The record that its home field names; null where it lives in the feed of the firm or in its own. */
  readonly parent: string | null;
  /** The visit that it belongs to and moves with; for a visit, itself. */
  readonly visit: string | null;
  readonly memory: MergeMemory | null;
}

/** What is known while a group of mutations is decided: the loaded records, overlaid with what was decided so far. */
export interface World {
  get(id: string): Held | undefined;
  /** Everything that belongs to a visit, the visit itself left out. */
  ofVisit(id: string): readonly Held[];
  /** The records that live directly under this one. */
  under(id: string): readonly Held[];
  wellsOfNest(id: string): readonly Held[];
}

/** A member of the firm who works through a device or a service, as the write door sees them. */
export interface Writer {
  readonly client: string;
  readonly role: Role;
  /** The member at the device; null for a service that speaks for no one person. */
  readonly person: string | null;
}
