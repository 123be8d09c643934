import { type FieldClient, openClient } from '../../src/client/client.ts';
import { applyChanges, type Contents, changesFor, noContents, questionsOf } from '../../src/client/contents.ts';
import type { FetchLike } from '../../src/client/fetch-like.ts';
import { httpTransport } from '../../src/client/http-transport.ts';
import type { Change, ClientStore } from '../../src/client/store.ts';
import { type SyncReport, syncOnce } from '../../src/client/sync.ts';
import { uuidV7Maker } from '../../src/client/uuid-v7-maker.ts';
import type { Outcome } from '../../src/protocol/mutation.ts';
import type { Actor } from '../../src/writes/batch.ts';
import { START_MS } from './base-firm.ts';
import type { Chance } from './chance.ts';
import type { History } from './history.ts';
import type { Timeline } from './timeline.ts';
import type { Findings } from './violation.ts';

export class Died extends Error {}

const FIVE_HOURS_MS = 18_000_000;
const YEAR_MS = 31_557_600_000;

/** Where a planted bug gets into a phone. */
export interface PhoneSeams {
  /** The commits that a commit falls into; nothing may come between those of a sound store. */
  readonly parts?: (changes: readonly Change[], contents: Contents) => readonly (readonly Change[])[];
  readonly line?: (next: FetchLike, phone: SimPhone) => FetchLike;
}

export interface PhoneOptions {
  readonly at: number;
  readonly actor: Actor;
  readonly timeline: Timeline;
  readonly chance: Chance;
  /** Of its own, so that worlds that differ in nothing but clocks draw alike. */
  readonly clockChance: Chance | null;
  readonly countedIds: boolean;
  readonly recountEvery: number;
  readonly history: History;
  readonly findings: Findings;
  readonly lineOf: (actor: Actor, isAlive: () => boolean) => FetchLike;
  readonly seams: PhoneSeams;
}

interface Life {
  alive: boolean;
  /** Dies at this commit from now on; 0 for not at all. */
  dyingIn: number;
}

/** A phone with the real client library, on a clock that may lie and a store that may be cut off at any commit. */
export class SimPhone {
  readonly options: PhoneOptions;
  readonly at: number;
  contents: Contents = noContents();
  /** Gone for good. */
  drowned = false;
  /** Its rows were changed behind its back: it may mend them. */
  damaged = false;
  syncing = false;
  onReport: (report: SyncReport) => void = () => undefined;
  onDeath: () => void = () => undefined;
  #life: Life = { alive: false, dyingIn: 0 };
  #client: FieldClient | null = null;
  #boots = 0;
  #ids = 0;
  #clock = { offsetMs: 0, bootedMs: 0, boot: '' };

  constructor(options: PhoneOptions) {
    this.options = options;
    this.at = options.at;
  }

  get isOn(): boolean {
    return this.#life.alive;
  }

  get client(): FieldClient {
    if (!this.#client || !this.isOn) throw new Error(`phone ${this.at} is off`);
    return this.#client;
  }

  wall(): string {
    const ms = this.options.timeline.nowMs + this.#clock.offsetMs - FIVE_HOURS_MS;
    return `${new Date(ms).toISOString().slice(0, 23)}-05:00`;
  }

  /** Starts the phone: with another boot and perhaps another clock. */
  async start(person: string): Promise<void> {
    const { timeline, chance, at, actor, lineOf, seams, countedIds, recountEvery } = this.options;
    const life: Life = { alive: true, dyingIn: 0 };
    this.#life = life;
    this.#boots += 1;
    const offsetMs = this.#offset();
    this.#clock = { offsetMs, bootedMs: timeline.nowMs, boot: `boot ${at}.${this.#boots}` };
    const { boot, bootedMs } = this.#clock;
    const monotonicMs = () => timeline.nowMs - bootedMs + 1_000;
    const line = lineOf(actor, () => life.alive);
    const fetch = this.#listening(seams.line?.(line, this) ?? line);
    const nowMs = () => (countedIds ? START_MS + this.#ids++ : timeline.nowMs + offsetMs);
    const client = await openClient({
      store: this.#store(life),
      transport: httpTransport({ base: 'http://server', token: actor.token, fetch }),
      time: { boot, monotonicMs, wall: () => this.wall() },
      recountEvery,
      newId: uuidV7Maker({ nowMs, randomBytes: (count) => chance.bytes(count) }),
    });
    this.#client = client;
    if ((await client.identity()).person === null) await client.setPerson(person);
  }

  /** Another error at each boot; where worlds with other clocks are compared, one for the life of the device. */
  #offset(): number {
    const { clockChance, countedIds } = this.options;
    if (clockChance === null) return 0;
    if (countedIds && this.#boots > 1) return this.#clock.offsetMs;
    return Math.round((clockChance.next() * 20 - 10) * YEAR_MS);
  }

  /** Everything in memory is lost, also what was on its way. */
  die(): void {
    if (!this.#life.alive) return;
    this.#life.alive = false;
    this.syncing = false;
    this.onDeath();
  }

  dieAtCommit(count: number): void {
    this.#life.dyingIn = count;
  }

  /** Begins a sync, unless one is going on. */
  sync(): void {
    if (this.syncing || !this.isOn) return;
    this.syncing = true;
    const life = this.#life;
    syncOnce(this.client).then(
      (report) => {
        if (!life.alive) return;
        this.syncing = false;
        this.onReport(report);
      },
      (error: unknown) => {
        if (!life.alive) return;
        this.syncing = false;
        this.options.findings.add('nothing wedges', `the sync of phone ${this.at} threw: ${String(error)}`);
      },
    );
  }

  backup(): Contents {
    const copy = noContents();
    applyChanges(copy, changesFor(this.contents));
    return copy;
  }

  /** What is answered of another phone's line may be let go in the same moment: it is heard as it comes. */
  #listening(line: FetchLike): FetchLike {
    return async (url, request) => {
      const response = await line(url, request);
      if (!url.endsWith('push?carried=true') || response.status !== 200) return response;
      const text = await response.text();
      this.#hearCarried(request.body ?? '', text);
      return { ...response, text: async () => text };
    };
  }

  #hearCarried(body: string, text: string): void {
    try {
      const { outcomes } = JSON.parse(text) as { outcomes: Outcome[] };
      const lines = body.split('\n').slice(1);
      for (const [index, outcome] of outcomes.entries()) {
        this.options.history.heardByPartner(this.at, { line: lines[index] ?? '', outcome });
      }
    } catch {
      // the answer was cut: nothing was told
    }
  }

  #store(life: Life): ClientStore {
    const commit = async (changes: readonly Change[]) => {
      if (!life.alive) throw new Died();
      const parts = this.options.seams.parts?.(changes, this.contents) ?? [changes];
      const dies = life.dyingIn > 0 && --life.dyingIn === 0;
      const done = dies ? this.options.chance.below(parts.length + 1) : parts.length;
      for (const part of parts.slice(0, done)) this.#take(part);
      if (done === parts.length) this.#hear(changes);
      if (!dies) return;
      this.die();
      throw new Died();
    };
    return { ...questionsOf(this.contents), commit };
  }

  #take(changes: readonly Change[]): void {
    const reset = new Set(
      changes.flatMap((change) => ('drop' in change && change.drop === 'feed' ? [change.feed] : [])),
    );
    for (const change of changes) {
      if (!('put' in change) || change.put !== 'record' || reset.has(change.stored.feed)) continue;
      const { feed, record } = change.stored;
      const before = this.contents.records.get(feed)?.get(record.id)?.record.rev ?? 0;
      if (before <= record.rev || this.damaged) continue;
      const detail = `phone ${this.at} went back from revision ${before} to ${record.rev} of ${record.kind} ${record.id}`;
      this.options.findings.add('causal and atomic', detail);
    }
    applyChanges(this.contents, changes);
  }

  #hear(changes: readonly Change[]): void {
    for (const change of changes) {
      if (!('put' in change)) continue;
      if (change.put === 'entry') this.options.history.heard(change.entry);
      if (change.put === 'carried') this.options.history.heardByPartner(this.at, change.carried);
    }
  }
}
