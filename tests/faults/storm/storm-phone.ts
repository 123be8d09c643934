import { setTimeout as sleep } from 'node:timers/promises';
import type { FetchLike } from '../../../src/client/fetch-like.ts';
import type { SyncReport } from '../../../src/client/sync.ts';
import type { Actor } from '../../../src/writes/batch.ts';
import { act } from '../../sim/actions.ts';
import { IDS, START_MS } from '../../sim/base-firm.ts';
import type { Chance } from '../../sim/chance.ts';
import type { Told } from '../../sim/doing.ts';
import type { Features } from '../../sim/features.ts';
import { type PhoneSeams, SimPhone } from '../../sim/sim-phone.ts';
import { Timeline } from '../../sim/timeline.ts';
import type { Findings } from '../../sim/violation.ts';
import { Follower } from './follower.ts';
import type { Heard } from './heard.ts';
import type { PhoneLine } from './phone-line.ts';

const REQUEST_MS = 3_000;
const LOOK_MS = 5;

let lastMs = 0;

/** Later at every look, on all phones: no two things that people write down are to have one time. */
function tickingMs(): number {
  lastMs = Math.max(lastMs + 1, Date.now());
  return lastMs;
}

/** The clock of the machine, where a simulated phone looks for the time. */
function realTime(): Timeline {
  return Object.defineProperty(new Timeline(START_MS), 'nowMs', { get: tickingMs });
}

export interface StormPhoneOptions {
  readonly at: number;
  readonly actor: Actor;
  readonly secret: string;
  readonly line: PhoneLine;
  readonly chance: Chance;
  readonly history: Heard;
  readonly findings: Findings;
  readonly features: Features;
  readonly told: Told;
  readonly seams?: PhoneSeams;
}

/** The phone of the simulation, on the real time and a real line. */
export class StormPhone {
  readonly sim: SimPhone;
  readonly line: PhoneLine;
  readonly secret: string;
  readonly chance: Chance;
  /** The newest sync that came to its end, since it was last asked for. */
  report: SyncReport | null = null;
  syncs = 0;
  deaths = 0;
  follower: { readonly told: ReadonlyMap<string, number>; stop(): void } | null = null;
  readonly #options: StormPhoneOptions;
  #stopped = false;
  #starting: Promise<void> | null = null;

  constructor(options: StormPhoneOptions) {
    const { at, actor, secret, line, chance, history, findings, seams = {} } = options;
    this.#options = options;
    const clockChance = options.features.lyingClocks ? chance.fork() : null;
    this.line = line;
    this.secret = secret;
    this.chance = chance.fork();
    this.sim = new SimPhone({
      ...{ at, actor, history, findings, seams, timeline: realTime(), chance: chance.fork(), clockChance },
      ...{ countedIds: false, recountEvery: 6, lineOf: () => this.#fetch() },
    });
    this.sim.onReport = (report) => this.#look(report);
    this.sim.onDeath = () => {
      this.deaths += 1;
    };
  }

  #fetch(): FetchLike {
    return (url, request) => {
      const address = url.replace('http://server', this.line.base);
      return fetch(address, { ...request, signal: AbortSignal.timeout(REQUEST_MS) });
    };
  }

  start(): Promise<void> {
    this.#starting ??= this.sim.start(IDS.ann).finally(() => {
      this.#starting = null;
    });
    return this.#starting;
  }

  follow(): void {
    this.follower = new Follower(this);
  }

  /** A whole sync, or the end of the one that is going on. @returns null where the phone died in it */
  async sync(): Promise<SyncReport | null> {
    if (!this.sim.isOn) await this.start();
    const before = this.syncs;
    this.sim.sync();
    while (this.sim.syncing && this.sim.isOn) await sleep(LOOK_MS);
    return this.syncs === before ? null : this.report;
  }

  /** Does what people do, and syncs now and then, whatever becomes of that. */
  async work(pauseMs: number): Promise<void> {
    const { features, told } = this.#options;
    while (!this.#stopped) {
      if (!this.sim.isOn) await this.start();
      for (let left = this.chance.between(1, 3); left > 0 && this.sim.isOn; left--) {
        await act({ phone: this.sim, chance: this.chance, features, told });
      }
      if (features.deaths && this.chance.yes(0.04)) this.sim.dieAtCommit(this.chance.between(1, 4));
      const syncing = this.sync();
      // people go on while their phone is at it
      if (this.chance.yes(0.5)) await syncing;
      await sleep(pauseMs * (0.5 + this.chance.next()));
    }
    await this.sync();
  }

  rest(): void {
    this.#stopped = true;
  }

  wake(): void {
    this.#stopped = false;
  }

  /** Nothing waits here any more, and nothing new came. */
  get isQuiet(): boolean {
    const { report } = this;
    if (!report || report.problem !== null || report.carried.unanswered > 0) return false;
    return report.pushed + report.pulled + report.replayed + report.resets.length + report.unsent.count === 0;
  }

  /** Nothing was damaged and no data set back, so nothing may have to be mended. */
  #look(report: SyncReport): void {
    this.syncs += 1;
    this.report = report;
    const { findings, at } = this.#options;
    const { repaired, differing, resets, newIdentities } = report;
    const mended = [...repaired, ...differing];
    if (mended.length > 0) findings.add('no row is missed', `phone ${at} had to mend ${mended.join()}`);
    if (resets.length > 0) {
      findings.add('cursor and rows are one', `phone ${at} was reset: ${JSON.stringify(resets)}`);
    }
    if (newIdentities > 0) findings.add('exactly once', `phone ${at} took a new client id`);
  }
}
