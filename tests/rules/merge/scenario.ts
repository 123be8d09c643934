import fc from 'fast-check';
import { FIRST_FIELDS, observedAt, PURGE, READINGS, VISIT } from './merge-world.ts';
import { type Base, OracleRecord, VOID } from './oracle.ts';
import { type Sent, SimulatedServer, sent } from './simulated-server.ts';

/** What one person wants to do on one phone; whether the phone can is seen when it comes to it. */
export interface Wish {
  readonly record: number;
  readonly verb: 'record' | 'amend' | 'void';
  readonly set: Readonly<Record<string, unknown>>;
  /** Whether the phone says what it had in view. */
  readonly says: boolean;
}

/** What becomes of a phone's sync: nothing, its push, the pull alone, both without the answer to the push, or all. */
const SYNCS = ['none', 'pushed', 'pulled', 'unheard', 'heard'] as const;
type Sync = (typeof SYNCS)[number];

/** Phones write by themselves, then the server takes what comes of it in some order, then some phones pull. */
export interface Round {
  readonly wishes: readonly (readonly Wish[])[];
  readonly order: readonly number[];
  readonly syncs: readonly Sync[];
}

export type Scenario = readonly Round[];

const RECORDS = [
  { kind: 'visit', id: VISIT },
  { kind: 'purge', id: PURGE },
  ...READINGS.map((id) => ({ kind: 'reading', id })),
] as const;

/** The records that are there before anybody edits; the last reading is made by a phone, or by two. */
const MADE_BEFORE = RECORDS.length - 1;

const remark = fc.constantFrom('a', 'b', null);
const CHOICES: Readonly<Record<string, Readonly<Record<string, fc.Arbitrary<unknown>>>>> = {
  visit: {
    outcome: fc.constantFrom('sampled', 'dry', null),
    left: fc.constantFrom('2026-05-04T11:20:00-05:00', null),
    outcomeReason: remark,
  },
  purge: { remark, ended: fc.constantFrom('2026-05-04T11:00:00-05:00', '2026-05-04T11:30:00-05:00', null) },
  reading: {
    ph: fc.constantFrom('7.01', '7.02', '15.0', null),
    turbidityNtu: fc.constantFrom('4.0', '5.5', null),
    remark,
  },
};

function fieldsOf(kind: string): fc.Arbitrary<Readonly<Record<string, unknown>>> {
  const choices = CHOICES[kind] ?? {};
  return fc
    .subarray(Object.keys(choices), { minLength: 1 })
    .chain((names) => fc.record(Object.fromEntries(names.map((name) => [name, choices[name] ?? fc.constant(null)]))));
}

const wish: fc.Arbitrary<Wish> = fc
  .record({
    record: fc.nat({ max: RECORDS.length - 1 }),
    verb: fc.constantFrom('amend', 'amend', 'amend', 'void', 'record'),
    says: fc.constantFrom(true, true, true, true, false),
  } as const)
  .chain((base) => fieldsOf(RECORDS[base.record]?.kind ?? '').map((set) => ({ ...base, set })));

export function scenarios(phones: number, rounds: number): fc.Arbitrary<Scenario> {
  const round = fc.record({
    wishes: fc.array(fc.array(wish, { maxLength: 3 }), { minLength: phones, maxLength: phones }),
    order: fc.array(fc.nat({ max: 5 }), { minLength: 12, maxLength: 12 }),
    syncs: fc.array(fc.constantFrom(...SYNCS, 'heard' as const), { minLength: phones, maxLength: phones }),
  });
  return fc.array(round, { minLength: 1, maxLength: rounds });
}

/** What a phone wrote of a record and heard nothing of. */
interface Own {
  /** The last of its mutations, and what it had in view as it began to write. */
  readonly mutation: number;
  readonly first: Base;
  /** The fields that they cover on the screen, each with the revision last seen under them. */
  readonly under: ReadonlyMap<string, number>;
}

/** The last phone runs an old app, which says only after which own mutation it wrote. */
const OLD = 2;

/** A phone: what it pulled, and what it wrote and has no answer to. */
class Phone {
  readonly number: number;
  next = 1;
  readonly pulled = new Map<string, number>();
  readonly own = new Map<string, Own>();
  /** What did not come to the server yet. */
  unsent: Played[] = [];

  constructor(number: number) {
    this.number = number;
  }

  pull(server: SimulatedServer): void {
    for (const id of server.ids) this.pulled.set(id, server.rev(id));
  }

  sync(sync: Sync, server: SimulatedServer): void {
    if (sync === 'heard') this.own.clear();
    if (sync !== 'none' && sync !== 'pushed') this.pull(server);
  }

  /** What comes to the server in this round. */
  push(sync: Sync): Played[] {
    if (sync === 'none' || sync === 'pulled') return [];
    const sent = this.unsent;
    this.unsent = [];
    return sent;
  }

  #view(id: string): { readonly base: Base; readonly said: object } {
    const own = this.own.get(id);
    const rev = this.pulled.get(id);
    if (!own) return { base: { rev: rev ?? 0 }, said: { rev } };
    if (rev === undefined || this.number === OLD) return { base: own.first, said: { after: own.mutation } };
    return { base: { rev, under: own.under }, said: { rev, under: Object.fromEntries(own.under) } };
  }

  #note(id: string, mutation: number, base: Base, fields: readonly string[]): void {
    const own = this.own.get(id);
    const under = new Map(own?.under);
    for (const field of fields) under.set(field, base.under?.get(field) ?? base.rev);
    const first = { rev: Math.min(base.rev, ...(base.under?.values() ?? [])) };
    this.own.set(id, { mutation, first, under });
  }

  #can(wish: Wish, id: string): boolean {
    const knows = this.pulled.has(id) || this.own.has(id);
    return wish.verb === 'record' ? !knows && wish.record >= MADE_BEFORE : knows;
  }

  /** What the phone sends for a wish, with the base that the oracle goes by. */
  write(wish: Wish): Played[] {
    const { kind, id } = RECORDS[wish.record] ?? RECORDS[0];
    if (!this.#can(wish, id)) return [];
    const mutation = this.next++;
    const says = wish.says && wish.verb !== 'record';
    const view = this.#view(id);
    const base = says ? view.base : { rev: 0 };
    const bases = says ? { base: view.said } : {};
    const set = setOf(wish, kind, this.number);
    const reason = wish.verb === 'record' ? {} : { reason: `of phone ${this.number}` };
    const { verb } = wish;
    this.#note(id, mutation, base, wish.verb === 'void' ? [VOID] : Object.keys(set.set ?? {}));
    return [
      { sent: sent(this.number, { mutationId: mutation, verb, kind, id, ...bases, ...set, ...reason }), base, set },
    ];
  }
}

function setOf(wish: Wish, kind: string, phone: number): { set?: Readonly<Record<string, unknown>> } {
  if (wish.verb === 'void') return {};
  if (wish.verb === 'amend') return { set: wish.set };
  const fresh = kind === 'reading' ? { purge: PURGE, observed: observedAt(30 + phone) } : FIRST_FIELDS[kind];
  return { set: { ...fresh, ...wish.set } };
}

export interface Played {
  readonly sent: Sent;
  readonly base: Base;
  readonly set: { readonly set?: Readonly<Record<string, unknown>> };
}

/** Everything that a server went through, beside what the oracle makes of it. */
export class Play {
  readonly server: SimulatedServer;
  readonly oracle = new Map<string, OracleRecord>();

  constructor(server = new SimulatedServer()) {
    this.server = server;
  }

  copy(): Play {
    const copy = new Play(this.server.copy());
    for (const [id, record] of this.oracle) copy.oracle.set(id, record.copy());
    return copy;
  }

  take({ sent, base, set }: Played): void {
    const { mutation } = sent.read;
    const record = this.oracle.get(mutation.id) ?? new OracleRecord();
    this.oracle.set(mutation.id, record);
    const decision = this.server.take(sent);
    if (!('changes' in decision)) throw new Error(`not taken: ${decision.detail}`);
    if (mutation.verb === 'record') record.record(sent.phone, mutation.mutationId, set.set ?? {});
    else if (mutation.verb === 'amend') record.amend(sent.phone, mutation.mutationId, set.set ?? {}, base);
    else record.void(sent.phone, mutation.mutationId, base);
  }
}

function before(): Played[] {
  return RECORDS.slice(0, MADE_BEFORE).map(({ kind, id }, index) => {
    const observed = kind === 'reading' ? { observed: observedAt(index * 5) } : {};
    const set = { set: { ...FIRST_FIELDS[kind], ...observed } };
    return { sent: sent(9, { mutationId: index + 1, verb: 'record', kind, id, ...set }), base: { rev: 0 }, set };
  });
}

/** One way to take what each phone wrote, in which each phone's own order stands. */
export function interleave(queues: readonly (readonly Played[])[], picks: readonly number[]): Played[] {
  const left = queues.map((queue) => [...queue]);
  const taken: Played[] = [];
  for (let at = 0; left.some((queue) => queue.length > 0); at++) {
    const waiting = left.filter((queue) => queue.length > 0);
    const next = waiting[(picks[at % picks.length] ?? 0) % waiting.length]?.shift();
    if (next) taken.push(next);
  }
  return taken;
}

/** Every way in which each phone's own order stands; undefined where there are more than `most`. */
export function interleavings(queues: readonly (readonly Played[])[], most: number): Played[][] | undefined {
  const left = queues.filter((queue) => queue.length > 0);
  if (left.length === 0) return [[]];
  const all: Played[][] = [];
  for (const queue of left) {
    const [first, ...rest] = queue;
    const others = interleavings([...left.filter((one) => one !== queue), rest], most);
    if (!others || !first) return undefined;
    for (const other of others) all.push([first, ...other]);
    if (all.length > most) return undefined;
  }
  return all;
}

export interface Prepared {
  /** Everything that it took before the last round, in that order. */
  readonly taken: readonly Played[];
  /** The server before the last round. */
  readonly play: Play;
  /** What each phone wrote in the last round. */
  readonly last: readonly (readonly Played[])[];
}

/** Plays all rounds but the last in their given order. */
export function prepare(scenario: Scenario): Prepared {
  const play = new Play();
  const taken = before();
  for (const one of taken) play.take(one);
  const phones = (scenario[0]?.wishes ?? []).map((_, index) => new Phone(index));
  for (const phone of phones) phone.pull(play.server);
  for (const [index, round] of scenario.entries()) {
    for (const phone of phones) {
      for (const wished of round.wishes[phone.number] ?? []) phone.unsent.push(...phone.write(wished));
    }
    if (index === scenario.length - 1) return { play, taken, last: phones.map(({ unsent }) => unsent) };
    const syncOf = ({ number }: Phone) => round.syncs[number] ?? 'heard';
    const queues = phones.map((phone) => phone.push(syncOf(phone)));
    for (const one of interleave(queues, round.order)) {
      play.take(one);
      taken.push(one);
    }
    for (const phone of phones) phone.sync(syncOf(phone), play.server);
  }
  return { play, taken, last: [] };
}

export function continued(prepared: Prepared, order: readonly Played[]): Play {
  const play = prepared.play.copy();
  for (const one of order) play.take(one);
  return play;
}
