import { canonicalText } from '../../../src/protocol/content-hash.ts';

/**
 * What the rules of merging promise, written from their prose and not from the code: a write supersedes what its writer
 * had in view (the value shown at the base revision) and its writer's own earlier writes, nothing else. It remembers
 * every revision whole and looks everything up there, where the code under test keeps only what it needs.
 */
export interface OracleWrite {
  readonly phone: number | null;
  readonly mutation: number | null;
  /** A value of a field; of the field `$voided`, whether the record is void. */
  readonly value: unknown;
}

/** What a writer had in view: a revision, but of the fields that own values covered on the screen an earlier one. */
export interface Base {
  readonly rev: number;
  /** Missing where the writer said no more than its last own mutation, or had none that was not answered. */
  readonly under?: ReadonlyMap<string, number> | undefined;
}

type Alive = readonly OracleWrite[];

interface Moment {
  readonly fields: ReadonlyMap<string, Alive>;
}

export const VOID = '$voided';

function same(a: unknown, b: unknown): boolean {
  return canonicalText(a ?? null) === canonicalText(b ?? null);
}

function isEarlierOwn(write: OracleWrite, earlier: OracleWrite): boolean {
  return write.phone === earlier.phone && (earlier.mutation ?? 0) < (write.mutation ?? 0);
}

export class OracleRecord {
  /** What the record was after each revision; revision 0 is before it was made. */
  readonly #moments: Moment[] = [{ fields: new Map() }];

  copy(): OracleRecord {
    const copy = new OracleRecord();
    copy.#moments.push(...this.#moments.slice(1));
    return copy;
  }

  #now(): Moment {
    return this.#moments.at(-1) ?? { fields: new Map() };
  }

  /** All values of a field that nobody superseded, the one shown last. */
  alive(field: string): Alive {
    return this.#now().fields.get(field) ?? [];
  }

  fields(): string[] {
    return [...this.#now().fields.keys()];
  }

  #inView(field: string, base: Base): Alive {
    const then = this.#moments[base.under?.get(field) ?? base.rev]?.fields.get(field) ?? [];
    const shown = then.at(-1);
    return then.filter((write) => shown !== undefined && same(write.value, shown.value));
  }

  #voidInView(base: Base, phone: number): boolean {
    if (base.under) return base.under.has(VOID) || this.#inView(VOID, base).at(-1)?.value === true;
    const own = this.alive(VOID).filter((write) => write.phone === phone);
    const sinceBase = own.filter((write) => !(this.#moments[base.rev]?.fields.get(VOID) ?? []).includes(write));
    const last = sinceBase.at(-1) ?? this.#inView(VOID, base).at(-1);
    return last?.value === true;
  }

  /** Whether the writer saw a void and an edit against each other: then only a person's decision, or a new void, speaks. */
  #voidRivalsInView({ rev }: Base): boolean {
    const then = this.#moments[rev]?.fields.get(VOID) ?? [];
    return then.some((write) => !same(write.value, then.at(-1)?.value));
  }

  #take(field: string, write: OracleWrite, base: Base, into: Map<string, Alive>): void {
    const seen = this.#inView(field, base);
    const left = (into.get(field) ?? []).filter((one) => !seen.includes(one) && !isEarlierOwn(write, one));
    into.set(field, [...left, write]);
  }

  /** The first record under its id, or a rival of one that was made under the same id elsewhere. */
  record(phone: number, mutation: number, fields: Readonly<Record<string, unknown>>): void {
    const next = new Map(this.#now().fields);
    for (const [field, value] of Object.entries(fields)) {
      if (value !== null && value !== undefined) this.#take(field, { phone, mutation, value }, { rev: 0 }, next);
    }
    this.#moments.push({ fields: next });
  }

  amend(phone: number, mutation: number, fields: Readonly<Record<string, unknown>>, base: Base): void {
    const next = new Map(this.#now().fields);
    const silent = this.#voidInView(base, phone) || this.#voidRivalsInView(base);
    const counts = silent ? {} : { [VOID]: false };
    for (const [field, value] of Object.entries({ ...fields, ...counts })) {
      this.#take(field, { phone, mutation, value }, base, next);
    }
    this.#moments.push({ fields: next });
  }

  void(phone: number, mutation: number, base: Base): void {
    const next = new Map(this.#now().fields);
    if (!this.#voidInView(base, phone)) this.#take(VOID, { phone, mutation, value: true }, base, next);
    this.#moments.push({ fields: next });
  }
}
