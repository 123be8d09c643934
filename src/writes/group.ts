import type { NotTaken } from '../rules/decide/decision.ts';
import type { Held } from '../rules/held.ts';
import type { Intent } from '../rules/merge/apply-intent.ts';
import type { Overlay } from '../rules/overlay.ts';
import type { ClientRow, ReceiptRow } from '../store/write/load-receipts.ts';
import type { Batch } from './batch.ts';
import { type KnownRights, NO_RIGHTS, type Owners } from './event-rights.ts';
import type { Fresh } from './fresh.ts';
import type { Gathered } from './gather.ts';

/** A row of a feed to be written: the newest state of a record there, or the news that it is gone. */
export interface Draft {
  readonly held: Held;
  /** The record before the change; null for a new one and for what is derived. */
  readonly before: Held | null;
  /** The feed that the record leaves by this change. */
  readonly leaves: string | null;
  /** A derived record that nothing gives rise to any more. */
  readonly withdrawn: boolean;
  readonly intent: Intent | null;
}

/** Everything that is known and decided in one transaction. */
export interface Group {
  readonly overlay: Overlay;
  /** Row hash of each record as it is stored, by feed and id. */
  readonly hashes: Map<string, Buffer>;
  readonly clients: ReadonlyMap<string, ClientRow>;
  readonly owners: Owners;
  readonly receipts: ReadonlyMap<string, ReceiptRow>;
  readonly gathered: Gathered;
  /** By what the rights of crews are judged. */
  readonly rights: KnownRights;
  /** The data was set back once: a revision that is cited without a history may be of one that is gone. */
  readonly revisionsInDoubt: boolean;
  readonly batches: readonly Batch[];
  readonly fresh: readonly Fresh[];
  /** Those of this group that waited for a record when they were first decided. */
  readonly waits: Fresh[];
  readonly drafts: Draft[];
  /** Rows that were set aside earlier and are applied now. */
  readonly releasedRows: string[];
  /** Rows that were set aside earlier and still are, for another reason or other records than they say. */
  readonly decidedRows: Map<string, NotTaken>;
  /** Records that did not exist before, so that what waits for them can be tried again. */
  readonly created: Set<string>;
}

export function openGroup(
  parts: Pick<Group, 'overlay' | 'hashes' | 'clients' | 'receipts' | 'gathered' | 'batches' | 'fresh'> &
    Partial<Pick<Group, 'owners' | 'revisionsInDoubt'>>,
  rights: KnownRights = NO_RIGHTS,
): Group {
  return {
    owners: new Map(),
    revisionsInDoubt: false,
    ...parts,
    rights,
    waits: [],
    drafts: [],
    releasedRows: [],
    decidedRows: new Map(),
    created: new Set(),
  };
}
