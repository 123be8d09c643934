import type { RecordState } from '../../src/protocol/record.ts';
import type { Actor } from '../../src/writes/batch.ts';
import { parsed } from './model/parsed.ts';
import type { ModelServer } from './model/server.ts';

/** Who may read what, worked out from the records themselves and from nothing that the server uses for it. */
export class Oracle {
  readonly #server: ModelServer;
  #at = -1;
  #states: RecordState[] = [];

  constructor(server: ModelServer) {
    this.#server = server;
  }

  feedsOf(actor: Actor): ReadonlySet<string> {
    const states = this.#now();
    const events = states.filter(({ kind }) => kind === 'event');
    const sites = states.filter(({ kind }) => kind === 'site');
    if (actor.role !== 'crew') {
      return new Set(['firm', ...events.map(({ id }) => `event:${id}`), ...sites.map(({ id }) => `site:${id}`)]);
    }
    const crew = states.find(({ id }) => id === actor.device)?.fields.crew;
    const mine = states.filter((one) => one.kind === 'assignment' && !one.voided && one.fields.crew === crew);
    const own = events.filter(({ id }) => mine.some(({ fields }) => fields.event === id));
    return new Set(['firm', ...own.flatMap(({ id, fields }) => [`event:${id}`, `site:${fields.site}`])]);
  }

  /** The newest state of every record that says who follows what. */
  #now(): readonly RecordState[] {
    const { commits, tables } = this.#server;
    if (this.#at === commits) return this.#states;
    this.#at = commits;
    const newest = new Map<string, { seq: number; state: string }>();
    for (const { kind, record, seq, state } of tables.ledger.values()) {
      if (!['event', 'site', 'device', 'assignment'].includes(kind) || state === null) continue;
      if ((newest.get(record)?.seq ?? 0) < seq) newest.set(record, { seq, state });
    }
    this.#states = [...newest.values()].map(({ state }) => parsed(state) as RecordState);
    return this.#states;
  }
}
