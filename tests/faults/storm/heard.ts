import type { OutboxEntry } from '../../../src/client/store.ts';
import { canonicalText } from '../../../src/protocol/content-hash.ts';
import type { Outcome } from '../../../src/protocol/mutation.ts';
import { captureKey, History } from '../../sim/history.ts';
import type { Findings } from '../../sim/violation.ts';

/** A mutation as its phone was told what became of it. */
export interface Acknowledged {
  readonly client: string;
  readonly mutationId: number;
  readonly line: string;
  readonly outcome: Outcome;
}

/** What people did, and of each mutation the answer that its phone stored. */
export class Heard extends History {
  readonly acknowledged = new Map<string, Acknowledged>();
  readonly #findings: Findings;

  constructor(findings: Findings) {
    super();
    this.#findings = findings;
  }

  override heard(entry: OutboxEntry): void {
    super.heard(entry);
    const { client, mutationId, line, outcome } = entry;
    if (outcome === null) return;
    const key = `${client} ${mutationId}`;
    const before = this.acknowledged.get(key);
    if (before && canonicalText(before.outcome) !== canonicalText(outcome)) {
      this.#findings.add(
        'exactly once',
        `${key} was answered in two ways: ${JSON.stringify([before.outcome, outcome])}`,
      );
    }
    this.acknowledged.set(key, { client, mutationId, line, outcome });
  }

  /** Captures that were answered under more than one number. */
  answeredTwice(): string[] {
    const names = new Map<string, Set<string>>();
    for (const [name, { line }] of this.acknowledged) {
      const key = captureKey(line);
      names.set(key, (names.get(key) ?? new Set()).add(name));
    }
    return [...names].filter(([, of]) => of.size > 1).map(([key]) => key);
  }
}
