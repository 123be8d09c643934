import { applyChanges, type Contents, changesFor } from '../../src/client/contents.ts';
import type { SyncReport } from '../../src/client/sync.ts';
import { LIMITS } from '../../src/protocol/limits.ts';
import type { Actor } from '../../src/writes/batch.ts';
import { deviceId, enterDay, enterFirm, IDS, START_MS } from './base-firm.ts';
import { Chance } from './chance.ts';
import type { Told } from './doing.ts';
import { CALM, drawFeatures, type Features } from './features.ts';
import { History } from './history.ts';
import { actorOf, emptyTables, ModelServer, type ServerSeams } from './model/server.ts';
import type { Tables } from './model/tables.ts';
import { Network, type NetworkSeams } from './network.ts';
import { type PhoneSeams, SimPhone } from './sim-phone.ts';
import { Timeline } from './timeline.ts';
import { Findings } from './violation.ts';
import { Watch } from './watch.ts';

export interface Seams {
  readonly server?: ServerSeams;
  readonly phone?: PhoneSeams;
  readonly network?: NetworkSeams;
}

type Base = Pick<Features, 'phones' | 'begun'>;

/** One for each size, made when it is first asked for. */
class Once<Value> {
  readonly #made = new Map<string, Promise<Value>>();

  get(key: string, make: () => Promise<Value>): Promise<Value> {
    const made = this.#made.get(key) ?? make();
    this.#made.set(key, made);
    return made;
  }
}

const bases = new Once<Tables>();

async function makeBase(devices: number, begun: boolean): Promise<Tables> {
  const chance = new Chance(devices);
  const server = new ModelServer(emptyTables(chance), { chance, trueMs: () => START_MS, skewsMs: [0] });
  const [process] = server.processes;
  if (process) await enterFirm(process.lane, devices);
  if (process && begun) await enterDay(process.lane);
  return server.tables;
}

function devicesFor(phones: number): number {
  return phones <= 6 ? 6 : 50;
}

/** The firm as it was entered, made once for each size. */
export async function baseTables({ phones, begun }: Base): Promise<Tables> {
  const devices = devicesFor(phones);
  return (await bases.get(`${devices} ${begun}`, () => makeBase(devices, begun))).copy();
}

const pulledContents = new Once<Contents[]>();

async function pullAll({ phones, begun }: Base): Promise<Contents[]> {
  const world = await World.open(0, { ...CALM, phones, begun, steps: 0, bootstraps: true });
  for (const phone of world.phones) phone.sync();
  await world.timeline.empty();
  return world.phones.map((phone) => phone.contents);
}

/** What the crews that are at work tell by radio. */
function toldAlready({ begun }: Base): Told {
  if (!begun) return { visits: [], purges: [], values: 0 };
  const purges = IDS.purges.map((id, at) => ({ id, visit: IDS.visits[at] ?? '' }));
  return { visits: [...IDS.visits], purges, values: 0 };
}

const FIVE_MINUTES_MS = 300_000;

/** Phones, a network and a server, with everything that may happen to them. */
export class World {
  readonly seed: number;
  readonly features: Features;
  readonly chance: Chance;
  readonly timeline = new Timeline(START_MS);
  readonly findings = new Findings();
  readonly history = new History();
  readonly told: Told;
  readonly server: ModelServer;
  readonly network: Network;
  readonly watch: Watch;
  readonly phones: SimPhone[];
  /** The newest whole sync of each phone since it was last asked for. */
  readonly reports = new Map<number, SyncReport>();
  backup: Tables;
  /** A phone is about to be lost; one in a world is enough. */
  drowning = false;
  /** A phone runs on a copy of another; one in a world is enough. */
  hasClone = false;
  readonly phoneBackups = new Map<number, { readonly contents: Contents; readonly captures: number }>();

  readonly #clockChance: Chance;

  private constructor(seed: number, features: Features, chance: Chance, tables: Tables, seams: Seams) {
    this.seed = seed;
    this.features = features;
    this.told = toldAlready(features);
    this.chance = chance;
    const clockChance = new Chance(seed + 1);
    this.#clockChance = clockChance;
    const skewMs = features.skewedServers ? FIVE_MINUTES_MS : 0;
    this.backup = tables.copy();
    const trueMs = () => this.timeline.nowMs;
    const skewsMs = Array.from({ length: features.processes }, () => (clockChance.next() * 2 - 1) * skewMs);
    // pages that hold little, so that a feed changes between two pages of it
    const pageRows = features.compacts ? 7 : LIMITS.feedPageRows;
    const options = { chance: chance.fork(), trueMs, skewsMs, commitFaults: features.commits, pageRows };
    this.server = new ModelServer(tables, seams.server ? { ...options, seams: seams.server } : options);
    this.server.fault = (error) => this.findings.add('nothing wedges', `a fault of the server: ${String(error)}`);
    this.watch = new Watch(this.server, features, this.findings);
    this.network = new Network(this.timeline, this.server, chance.fork(), features.network, {
      ...seams.network,
      left: (actor, asked, said) => {
        this.watch.answer(actor, asked, said);
        seams.network?.left?.(actor, asked, said);
      },
    });
    this.network.unheard = features.unheard;
    this.phones = Array.from({ length: features.phones }, (_, at) => this.#phone(at, clockChance, seams.phone ?? {}));
  }

  static async open(seed: number, fixed: Partial<Features> = {}, seams: Seams = {}): Promise<World> {
    const chance = new Chance(seed);
    const features = { ...drawFeatures(chance.fork()), ...fixed };
    const world = new World(seed, features, chance, await baseTables(features), seams);
    if (!features.bootstraps) await world.#pulledBefore();
    for (const phone of world.phones) await phone.start(IDS.ann);
    return world;
  }

  /** Phones that hold what the firm entered, as a phone of yesterday does; pulled once for all devices of a firm. */
  async #pulledBefore(): Promise<void> {
    const { begun } = this.features;
    const phones = devicesFor(this.features.phones);
    const pulled = await pulledContents.get(`${phones} ${begun}`, () => pullAll({ phones, begun }));
    for (const [at, contents] of pulled.entries()) {
      const phone = this.phones[at];
      if (!phone) continue;
      applyChanges(phone.contents, changesFor(contents));
      const { epoch } = this.server.tables.installation;
      const fresh = { nextMutation: 1, sequence: 0, person: IDS.ann, durable: 0 };
      phone.contents.identity = { client: this.chance.uuid(), epoch, ...fresh };
    }
  }

  get living(): SimPhone[] {
    return this.phones.filter((phone) => !phone.drowned);
  }

  noteBackup(): void {
    this.backup = this.server.tables.copy();
    this.server.tables.markDurable(this.backup);
  }

  /** Another phone that holds what this one holds, and speaks with its token; it is not on yet. */
  clone(of: SimPhone): SimPhone {
    this.hasClone = true;
    const twin = this.#phoneOf(of.options.actor, this.phones.length, this.#clockChance, of.options.seams);
    applyChanges(twin.contents, changesFor(of.contents));
    twin.damaged = of.damaged;
    this.phones.push(twin);
    return twin;
  }

  /** Phone 0 is the office's and follows everything; the others are of crews. */
  #phone(at: number, clockChance: Chance, seams: PhoneSeams): SimPhone {
    const actor = at === 0 ? actorOf('coordinator', null, at, IDS.ann) : actorOf('crew', deviceId(at), at, IDS.bob);
    return this.#phoneOf(actor, at, clockChance, seams);
  }

  #phoneOf(actor: Actor, at: number, clockChance: Chance, seams: PhoneSeams): SimPhone {
    const { timeline, history, findings, features } = this;
    const phone = new SimPhone({
      at,
      actor,
      timeline,
      history,
      findings,
      seams,
      chance: this.chance.fork(),
      clockChance: features.lyingClocks ? clockChance.fork() : null,
      countedIds: features.countedIds,
      recountEvery: features.damage ? 2 : 10,
      lineOf: (who, isAlive) => this.network.lineOf(who, isAlive),
    });
    let setBacks = 0;
    const sync = phone.sync.bind(phone);
    phone.sync = () => {
      if (!phone.syncing) setBacks = this.server.setBacks;
      sync();
    };
    phone.onReport = (report) => {
      this.reports.set(at, report);
      this.watch.report(phone, report, setBacks);
    };
    return phone;
  }
}
