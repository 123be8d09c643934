import type { SyncReport } from '../../src/client/sync.ts';
import type { Actor } from '../../src/writes/batch.ts';
import type { Features } from './features.ts';
import type { Asked, Said } from './model/door.ts';
import type { ModelServer } from './model/server.ts';
import { placeKey } from './model/tables.ts';
import { Oracle } from './oracle.ts';
import type { SimPhone } from './sim-phone.ts';
import type { Findings } from './violation.ts';

interface PageLike {
  readonly feed: string;
  readonly rows: readonly { readonly seq: number; readonly record?: unknown; readonly gone?: unknown }[];
}

/** Looks on while a world runs. */
export class Watch {
  readonly #server: ModelServer;
  readonly #findings: Findings;
  readonly #features: Features;
  readonly #oracle: Oracle;

  constructor(server: ModelServer, features: Features, findings: Findings) {
    this.#server = server;
    this.#features = features;
    this.#findings = findings;
    this.#oracle = new Oracle(server);
  }

  feedsOf(actor: Actor): ReadonlySet<string> {
    return this.#oracle.feedsOf(actor);
  }

  /** No answer holds a row of a feed that the reader does not follow, nor one that the feed does not hold. */
  answer(actor: Actor, asked: Asked, said: Said): void {
    if (asked.method !== 'GET' || said.status !== 200) return;
    const followed = this.#oracle.feedsOf(actor);
    const answer = JSON.parse(said.text) as { feeds?: { feed: string }[] } & Partial<PageLike>;
    const feeds = answer.feeds?.map(({ feed }) => feed) ?? (answer.feed === undefined ? [] : [answer.feed]);
    const over = feeds.filter((feed) => !followed.has(feed));
    const missing = answer.feeds ? [...followed].filter((feed) => !feeds.includes(feed)) : [];
    if (over.length > 0) this.#findings.add('feed exactness', `${actor.device ?? actor.role} was given ${over.join()}`);
    if (missing.length > 0)
      this.#findings.add('feed exactness', `${actor.device ?? actor.role} was not given ${missing.join()}`);
    if (answer.rows && answer.feed !== undefined) this.#rows(answer as PageLike, said.text);
  }

  #rows({ feed, rows }: PageLike, text: string): void {
    let from = 0;
    for (const { seq, record } of rows) {
      if (record === undefined) continue;
      const state = this.#server.tables.ledger.get(placeKey(feed, seq))?.state;
      const wanted = `"record":${state}`;
      // the rows stand there one after the other: most are found where the one before was
      const next = typeof state === 'string' ? text.indexOf(wanted, from) : -1;
      if (next >= 0) from = next;
      if (next >= 0 || (typeof state === 'string' && text.includes(wanted))) continue;
      this.#findings.add('feed exactness', `row ${seq} of ${feed} was answered otherwise than it stands there`);
    }
  }

  /** What a phone may report: nothing was mended where nothing was damaged. */
  report(phone: SimPhone, report: SyncReport, setBacksBefore: number): void {
    const { repaired, differing, resets, newIdentities, problem } = report;
    const { setBack, restoredPhone, cloned, compacts } = this.#features;
    const mended = [
      ...repaired,
      ...differing,
      ...resets.filter(({ reason }) => reason === 'differed').map(({ feed }) => feed),
    ];
    if (mended.length > 0 && !phone.damaged) {
      this.#findings.add('no row is missed', `phone ${phone.at} had to mend ${mended.join()}`);
    }
    if (differing.length > 0)
      this.#findings.add('convergence', `phone ${phone.at} still differs in ${differing.join()}`);
    const others = resets.filter(({ reason }) => reason !== 'differed' && !(compacts && reason === 'below_floor'));
    if (setBack === 'never' && others.length > 0) {
      this.#findings.add('cursor and rows are one', `phone ${phone.at} was reset: ${JSON.stringify(others)}`);
    }
    if (newIdentities > 0 && setBack === 'never' && !restoredPhone && !cloned) {
      this.#findings.add('exactly once', `phone ${phone.at} took a new client id`);
    }
    if (problem !== null) return;
    if (setBacksBefore === this.#server.setBacks) this.#tails(phone);
  }

  /** At the end of a whole sync a phone holds, of each feed, what the feed held at one moment. */
  #tails(phone: SimPhone): void {
    for (const { feed, seq, count, contentHash } of phone.contents.feeds.values()) {
      const row = this.#server.tables.ledger.get(placeKey(feed, seq));
      if (seq === 0 && count === 0) continue;
      if (row && row.liveCount === count && row.contentHash.toString('hex') === contentHash) continue;
      this.#findings.add('causal and atomic', `phone ${phone.at} holds ${feed} as it never was: at ${seq}`);
    }
  }
}
