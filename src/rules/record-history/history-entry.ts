import { kindNamed } from '../../protocol/kinds-by-name.ts';
import type { CarriedBy, RecordState, StampedClock } from '../../protocol/record.ts';
import { type FieldChange, fieldChanges } from './field-changes.ts';

/** What a row of the ledger did to a record. */
export const HISTORY_ACTS = [
  'recorded',
  'changed',
  'corrected',
  'voided',
  'counted-again',
  're-homed',
  'moved-along',
  'decided',
  'said-again',
  'left-feed',
  'derived',
  'derived-anew',
  'withdrawn',
] as const;
export type HistoryAct = (typeof HISTORY_ACTS)[number];

/** A row of the ledger about a record, as it is stored. */
export interface LedgerFact {
  readonly feed: string;
  readonly seq: number;
  readonly kind: string;
  readonly id: string;
  readonly rev: number;
  /** When the server took it. */
  readonly receivedAt: string;
  readonly client: string | null;
  readonly mutation: number | null;
  /** Of the device, when it captured this change; null where no device says. */
  readonly clock: StampedClock | null;
  /** The decision by which it came about, where a person decided a conflict. */
  readonly decision: string | null;
  /** RFC 8785 text of the state, byte for byte; null where the record left this feed. */
  readonly text: string | null;
  /** Of the row before it in its feed, 64 hexadecimal digits; zeros before the first. */
  readonly historyHashBefore: string;
  readonly historyHash: string;
}

/** A fact with what it did: to be read by people. */
export interface HistoryEntry extends LedgerFact {
  readonly act: HistoryAct;
  readonly changes: readonly FieldChange[];
  readonly state: RecordState | null;
  /** Names of the people, places and things that the entry names, by id, as they are called now. */
  readonly names: ReadonlyMap<string, string>;
  /** The device that it came from; null where it came from none, or was derived. */
  readonly device: string | null;
  /** Another device, or a token of none, which handed it in as a copy. */
  readonly handedInBy: Omit<CarriedBy, 'rev'> | null;
}

interface Before {
  readonly feed: string;
  readonly state: RecordState;
}

function actOf(
  { feed, kind, decision }: LedgerFact,
  before: Before | undefined,
  state: RecordState | null,
): HistoryAct {
  const family = kindNamed(kind)?.family;
  if (state === null) return family === 'derived' ? 'withdrawn' : 'left-feed';
  if (family === 'derived') return before ? 'derived-anew' : 'derived';
  if (!before) return 'recorded';
  const moved = ['well', 'event'].some((field) => before.state.fields[field] !== state.fields[field]);
  if (kind === 'visit' && moved) return 're-homed';
  if (feed !== before.feed) return 'moved-along';
  if (decision !== null) return 'decided';
  if ((before.state.voided === null) !== (state.voided === null)) return state.voided ? 'voided' : 'counted-again';
  if (fieldChanges(before.state, state).length === 0) return 'said-again';
  return family === 'observation' ? 'corrected' : 'changed';
}

/** A state goes on to say who carried an earlier one. */
function carrierIn(state: RecordState | null): HistoryEntry['handedInBy'] {
  const carried = state?.carriedBy?.find(({ rev }) => rev === state.rev);
  if (!carried) return null;
  const { rev: _, ...by } = carried;
  return by;
}

/** Tells rows of the ledger in their order: of each record it remembers the state before. */
export class HistoryTelling {
  readonly #before = new Map<string, Before>();

  entry(fact: LedgerFact): Omit<HistoryEntry, 'names' | 'device'> {
    const state = fact.text === null ? null : (JSON.parse(fact.text) as RecordState);
    const before = this.#before.get(fact.id);
    const act = actOf(fact, before, state);
    const changes = state === null ? [] : fieldChanges(before?.state ?? null, state);
    if (state !== null) this.#before.set(fact.id, { feed: fact.feed, state });
    return { ...fact, act, changes, state, handedInBy: carrierIn(state) };
  }
}
