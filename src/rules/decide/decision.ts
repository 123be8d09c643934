import type { Code } from '../../protocol/codes.ts';
import type { Held } from '../held.ts';
import type { Intent } from '../merge/apply-intent.ts';

/** A record as a decision leaves it, with where it lived before if that has changed. */
export interface Change {
  readonly held: Held;
  readonly leaves: string | null;
  /** What a replay of the ledger needs to merge again; null for a new record. */
  readonly intent: Intent | null;
}

/** Taken: the first change is the record that the mutation was about. */
export interface Taken {
  readonly outcome: 'applied' | 'merged' | 'conflict_kept';
  readonly changes: readonly Change[];
  /** The revision that the writer had seen whole, for a later "after my mutation". */
  readonly seenRev: number;
}

/** Not taken: kept as it came, waiting for a parent, a right or a person; or refused because it means nothing. */
export interface NotTaken {
  readonly outcome: 'set_aside' | 'refused';
  readonly code: Code;
  readonly detail: string;
  readonly pointer?: string;
  readonly waitsFor: readonly string[];
}

export type Decision = Taken | NotTaken;

export function isTaken(decision: Decision): decision is Taken {
  return 'changes' in decision;
}

export function refuse(code: Code, detail: string, pointer?: string): NotTaken {
  return { outcome: 'refused', code, detail, waitsFor: [], ...(pointer === undefined ? {} : { pointer }) };
}

export function setAside(code: Code, detail: string, waitsFor: readonly string[] = []): NotTaken {
  return { outcome: 'set_aside', code, detail, waitsFor };
}
