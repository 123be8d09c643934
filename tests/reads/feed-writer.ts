import { setTimeout as sleep } from 'node:timers/promises';
import { v7 } from 'uuid';
import type { Lane } from '../../src/writes/lane.ts';
import { InjectedFault } from '../support/faulty-pool.ts';
import { batchOf, type Draft, type OutcomeLike, TestClient, type TestFirm } from '../support/test-firm.ts';
import { minute, readingDraft, visitDrafts } from '../support/visit-drafts.ts';

/** What the writers of a firm know of each other's records. */
export interface Shared {
  readonly events: readonly string[];
  readonly wells: readonly string[];
  readonly visits: string[];
  readonly purges: string[];
  readonly readings: string[];
}

/** A writer that makes records of its own and changes those of everybody, without knowing what the others do. */
export class FeedWriter {
  readonly firm: TestFirm;
  readonly shared: Shared;
  readonly random: () => number;
  readonly client: TestClient;
  readonly outcomes: OutcomeLike[] = [];

  constructor(firm: TestFirm, shared: Shared, client: TestClient, lane: Lane, random: () => number) {
    this.firm = firm;
    this.shared = shared;
    this.random = random;
    this.client = new TestClient(client.actor, lane);
  }

  #pick<Item>(items: readonly Item[]): Item | undefined {
    return items[Math.floor(this.random() * items.length)];
  }

  #visit(): Draft[] {
    const { ids, drafts } = visitDrafts(this.firm, {
      event: this.#pick(this.shared.events),
      well: this.#pick(this.shared.wells),
    });
    const ph = () => (6 + this.random() * 3).toFixed(2);
    const readings = [5, 10, 15].map((at) => readingDraft(this.firm, ids.purge, at, { ph: ph() }));
    this.shared.visits.push(ids.visit);
    this.shared.purges.push(ids.purge);
    this.shared.readings.push(...readings.map((draft) => draft.id ?? ''));
    return [...drafts, ...readings];
  }

  #change(): Draft[] {
    const base = { rev: 1 + Math.floor(this.random() * 2) };
    const change = (verb: string, kind: string, id: string | undefined, set?: object): Draft[] =>
      id === undefined ? [] : [{ verb, kind, id, base, reason: 'of a test', ...(set ? { set: { ...set } } : {}) }];
    const turn = this.random();
    const ph = (6 + this.random() * 3).toFixed(2);
    const { visits, purges, readings, events, wells } = this.shared;
    if (turn < 0.4) return change('amend', 'reading', this.#pick(readings), { ph });
    if (turn < 0.55) return change('amend', 'purge', this.#pick(purges), { remark: `remark ${ph}` });
    if (turn < 0.65) return change('void', 'reading', this.#pick(readings));
    if (turn < 0.8) return change('rehome', 'visit', this.#pick(visits), { event: this.#pick(events) });
    if (turn < 0.9) return change('rehome', 'visit', this.#pick(visits), { well: this.#pick(wells) });
    return this.#claim();
  }

  #claim(): Draft[] {
    const { north, south, pump, otherPump } = this.firm.ids;
    const [crew, own] = this.random() < 0.5 ? [north, pump] : [south, otherPump];
    const set = { event: this.#pick(this.shared.events), well: this.#pick(this.shared.wells), crew, pump: own };
    const observed = this.firm.observed(minute(0));
    return [{ kind: 'well-claim', id: v7(), set: { ...set, from: minute(0), until: minute(30), observed } }];
  }

  async #push(drafts: readonly Draft[]): Promise<void> {
    const first = this.client.next;
    const lines = drafts.map((draft) => this.client.line(draft));
    for (;;) {
      try {
        const answer = await this.client.lane(batchOf(this.client.actor, this.client.id, first, lines));
        this.outcomes.push(...this.client.outcomes(answer));
        return;
      } catch (error) {
        if (!(error instanceof InjectedFault)) throw error;
      }
    }
  }

  async write(pushes: number, pauseMs: number): Promise<void> {
    for (let push = 0; push < pushes; push++) {
      const drafts = push === 0 || this.random() < 0.3 ? this.#visit() : [...this.#change(), ...this.#change()];
      if (drafts.length > 0) await this.#push(drafts);
      await sleep(this.random() * pauseMs);
    }
  }
}
