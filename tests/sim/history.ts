import type { CarriedEntry, OutboxEntry } from '../../src/client/store.ts';
import type { Mutation, Outcome } from '../../src/protocol/mutation.ts';

/** What a person did on a phone, and what phones were told of it: all that the checker of histories knows. */
export interface Capture {
  readonly key: string;
  readonly phone: number;
  /** Order of capture on all phones. */
  readonly order: number;
  readonly verb: Mutation['verb'];
  readonly kind: string;
  readonly id: string;
  readonly line: string;
  readonly set: Readonly<Record<string, unknown>>;
  /** What the screen showed of the record before; null where it showed none. */
  readonly seen: Readonly<Record<string, unknown>> | null;
  readonly sawVoid: boolean;
  /** The feeds that the phone followed, so far as it knew. */
  readonly followed: ReadonlySet<string>;
  /** A line made to be set aside. */
  readonly poison: boolean;
  /** What its own phone was told, or else a phone that carries a copy. */
  readonly told: Outcome | null;
  own: Outcome | null;
  /** What each phone was told that carries a copy; the newest is the last. */
  readonly carried: Map<number, Outcome>;
  /** Its phone is gone: what a partner is told of it counts, since the server may forget what it told the phone. */
  orphaned: boolean;
  /** Nobody has a copy of it, and its phone is gone. */
  uncopied: boolean;
  /** Why nobody can be blamed if it is gone. */
  excuse: string | null;
}

/** What a damaged row shows: whoever sees that, sees it in the place of the value that belongs there. */
export const DAMAGED = 'flipped';

export type Seen = Pick<Capture, 'seen' | 'sawVoid' | 'followed'>;

/** One capture on one boot of one device; it keeps that through every new number and client id. */
export function captureKey(line: string): string {
  const clock = (JSON.parse(line) as Mutation).clock;
  return `${clock?.boot} ${clock?.sequence}`;
}

/** Everything that was captured, with the answers as the stores of the phones were given them. */
export class History {
  readonly captures = new Map<string, Capture>();

  add(phone: number, entry: OutboxEntry, { seen, sawVoid, followed }: Seen, poison = false): void {
    const key = captureKey(entry.line);
    const { verb, kind, id, set = {} } = JSON.parse(entry.line) as Mutation;
    if (this.captures.has(key)) return;
    const order = this.captures.size;
    const outcomes = {
      own: entry.outcome,
      carried: new Map<number, Outcome>(),
      orphaned: false,
      uncopied: false,
      excuse: null,
    };
    this.captures.set(key, {
      ...{ key, phone, order, verb, kind, id, line: entry.line, set, seen, sawVoid, followed, poison, ...outcomes },
      get told(): Outcome | null {
        const byPartner = [...this.carried.values()].at(-1) ?? null;
        return this.orphaned ? (byPartner ?? this.own) : (this.own ?? byPartner);
      },
    });
  }

  heard({ line, outcome }: Pick<OutboxEntry, 'line' | 'outcome'>): void {
    const capture = this.captures.get(captureKey(line));
    if (capture) capture.own = outcome;
  }

  /** A copy that a second partner takes says nothing: what the first one was told stays told. */
  heardByPartner(partner: number, { line, outcome }: Pick<CarriedEntry, 'line' | 'outcome'>): void {
    const capture = this.captures.get(captureKey(line));
    capture?.carried.delete(partner);
    if (outcome !== null) capture?.carried.set(partner, outcome);
  }

  all(): Capture[] {
    return [...this.captures.values()];
  }
}

/** The server said that it has it among the records. */
export function wasTaken({ told }: Capture): boolean {
  return told?.outcome === 'applied' || told?.outcome === 'merged' || told?.outcome === 'conflict_kept';
}
