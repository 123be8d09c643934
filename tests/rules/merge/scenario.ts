import fc from 'fast-check';
import { FIRST_FIELDS, observedAt, PURGE, READINGS, VISIT } from './merge-world.ts';
import { OracleRecord } from './oracle.ts';
import { type Sent, SimulatedServer, sent } from './simulated-server.ts';

/** What one person wants to do on one phone; whether the phone can is seen when it comes to it. */
export interface Wish {
  readonly record: number;
  readonly verb: 'record' | 'amend' | 'void';
  readonly set: Readonly<Record<string, unknown>>;
  /** Whether the phone says what it had in view. */
  readonly says: boolean;
}

/** Phones write by themselves, then the server takes all of it in some order, then some phones pull. */
export interface Round {
  readonly wishes: readonly (readonly Wish[])[];
  readonly order: readonly number[];
  readonly pulls: readonly boolean[];
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
    pulls: fc.array(fc.boolean(), { minLength: phones, maxLength: phones }),
  });
  return fc.array(round, { minLength: 1, maxLength: rounds });
}

/** A phone: what it pulled, and what it wrote since then. */
class Phone {
  readonly number: number;
  next = 1;
  readonly pulled = new Map<string, number>();
  /** Its last mutation of a record that it has not pulled yet, and what it had in view as it began to write. */
  readonly own = new Map<string, { readonly mutation: number; readonly base: number }>();

  constructor(number: number) {
    this.number = number;
  }

  pull(server: SimulatedServer): void {
    this.own.clear();
    for (const id of server.ids) this.pulled.set(id, server.rev(id));
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
    const own = this.own.get(id);
    const base = wish.says ? (own?.base ?? this.pulled.get(id) ?? 0) : 0;
    const said = own ? { after: own.mutation } : { rev: this.pulled.get(id) };
    const bases = wish.says && wish.verb !== 'record' ? { base: said } : {};
    const set = setOf(wish, kind, this.number);
    const reason = wish.verb === 'record' ? {} : { reason: `of phone ${this.number}` };
    const { verb } = wish;
    this.own.set(id, { mutation, base });
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
  readonly base: number;
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
    return { sent: sent(9, { mutationId: index + 1, verb: 'record', kind, id, ...set }), base: 0, set };
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
    const queues = phones.map((phone) => (round.wishes[phone.number] ?? []).flatMap((one) => phone.write(one)));
    if (index === scenario.length - 1) return { play, taken, last: queues };
    for (const one of interleave(queues, round.order)) {
      play.take(one);
      taken.push(one);
    }
    for (const phone of phones) if (round.pulls[phone.number]) phone.pull(play.server);
  }
  return { play, taken, last: [] };
}

export function continued(prepared: Prepared, order: readonly Played[]): Play {
  const play = prepared.play.copy();
  for (const one of order) play.take(one);
  return play;
}
