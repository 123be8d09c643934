import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalText } from '../../../src/protocol/content-hash.ts';
import type { Derived } from '../../../src/rules/derive/derived.ts';
import { fieldConflicts } from '../../../src/rules/derive/field-conflicts.ts';
import type { Held } from '../../../src/rules/held.ts';
import { registerOf, startMemory, VOIDED } from '../../../src/rules/merge/merge-memory.ts';
import { FIRM } from './merge-world.ts';
import type { OracleWrite } from './oracle.ts';
import {
  continued,
  interleave,
  interleavings,
  type Play,
  type Played,
  prepare,
  type Scenario,
  scenarios,
} from './scenario.ts';
import { clientOf } from './simulated-server.ts';

const RUNS = process.env.LONG ? 20_000 : 1_000;
const PATIENCE_MS = process.env.LONG ? 1_200_000 : 60_000;
const MOST_ORDERS = 24;

function orders(queues: readonly (readonly Played[])[], picks: readonly number[]): Played[][] {
  const all = interleavings(queues, MOST_ORDERS);
  if (all) return all;
  return Array.from({ length: 8 }, (_, turn) =>
    interleave(
      queues,
      picks.map((pick, at) => pick + turn * (at + 1)),
    ),
  );
}

function textOf(value: unknown): string {
  return canonicalText(value ?? null);
}

interface Value {
  readonly client: string | null;
  readonly mutation: number | null;
  readonly value: unknown;
}

function sorted(values: readonly Value[]): string[] {
  return values.map(({ client, mutation, value }) => canonicalText([client, mutation, value])).sort();
}

/** Shown and kept values of each field, whatever the order in which they came. */
function registers({ state, memory }: Held): Record<string, string[]> {
  const known = memory ?? startMemory(state);
  const fields = [...new Set([...Object.keys(known.registers), ...Object.keys(state.fields)])].sort();
  return Object.fromEntries(fields.map((field) => [field, sorted(registerOf(known, state, field))]));
}

function ofOracle(writes: readonly OracleWrite[]): string[] {
  return sorted(
    writes.map(({ phone, mutation, value }) => ({ client: phone === null ? null : clientOf(phone), mutation, value })),
  );
}

/** `expect` is slow, and this is asked some hundred thousand times. */
function same(what: string, found: unknown, wanted: unknown): void {
  const [one, other] = [canonicalText(found), canonicalText(wanted)];
  if (one !== other) expect({ [what]: found }).toEqual({ [what]: wanted });
}

function expectAsOracle(play: Play, held: Held, values: Readonly<Record<string, string[]>>): void {
  const record = play.oracle.get(held.state.id);
  for (const [field, found] of Object.entries(values)) {
    const alive = record?.alive(field) ?? [];
    same(`${held.state.kind} ${field}`, found, ofOracle(alive));
    const nothing = field === VOIDED ? false : null;
    const stands = field === VOIDED ? held.state.voided !== null : (held.state.fields[field] ?? null);
    same(`${held.state.kind} ${field} shown`, stands, alive.at(-1)?.value ?? nothing);
  }
}

/** Every value that nobody superseded is shown or stands in a conflict. */
function expectNothingLost(play: Play, held: Held, conflicts: readonly Derived[]): void {
  const record = play.oracle.get(held.state.id);
  for (const field of (record?.fields() ?? []).filter((name) => name !== VOIDED)) {
    const conflict = conflicts.find((one) => one.fields.field === field);
    const kept = (conflict?.fields.kept ?? []) as readonly { readonly value: unknown }[];
    const stands = new Set([held.state.fields[field], ...kept.map((one) => one.value)].map(textOf));
    const lost = (record?.alive(field) ?? []).filter((write) => !stands.has(textOf(write.value)));
    same(`lost of ${field}`, lost.length, 0);
  }
}

interface ConflictLike {
  readonly shown: { readonly value: unknown };
  readonly kept: readonly { readonly value: unknown }[];
}

/** Conflicts without what depends on the order: which of the values is shown, and the sentence that says so. */
function orderless(conflicts: readonly Derived[]): string {
  const all = conflicts.map(({ id, feed, parent, visit, fields }) => {
    const { shown, kept, sentence, ...rest } = fields as unknown as ConflictLike & { readonly sentence: string };
    const values = [...new Set([shown, ...kept].map((one) => canonicalText(one.value)))].sort();
    return { id, feed, parent, visit, rest, values };
  });
  return canonicalText(all.toSorted((a, b) => (a.id < b.id ? -1 : 1)));
}

/** What the records say, without who came last. */
function shown(held: readonly Held[]): string {
  return canonicalText(held.map(({ state }) => [state.fields, state.voided !== null]));
}

function derived(play: Play): string {
  const plain = play.server.derived().filter((one) => one.kind !== 'conflict');
  return canonicalText(plain.toSorted((a, b) => (a.id < b.id ? -1 : 1)));
}

/** Assessments and flags of orders that show the same are the same. */
function expectSameDerived(plays: readonly Play[], touched: (play: Play) => Held[]): void {
  const byShown = new Map<string, Play>();
  for (const play of plays) {
    const text = shown(touched(play));
    const other = byShown.get(text);
    byShown.set(text, play);
    if (!other) continue;
    same('derived', derived(play), derived(other));
    return;
  }
}

function check(scenario: Scenario): void {
  const prepared = prepare(scenario);
  const touched = (play: Play) => play.server.all().filter((one) => prepared.play.server.held(one.state.id) !== one);
  const taken = orders(prepared.last, scenario.at(-1)?.order ?? [0]);
  const plays = taken.map((order) => continued(prepared, order));
  const [first] = plays;
  if (!first) return;
  same('a second replica', continued(prepared, taken[0] ?? []).server.all(), first.server.all());
  const wanted = touched(first).map(registers);
  const conflicts = orderless(touched(first).flatMap((held) => fieldConflicts(FIRM, held)));
  for (const play of plays) {
    const all = touched(play);
    const values = all.map(registers);
    same('values', values, wanted);
    const found = all.map((held) => fieldConflicts(FIRM, held));
    same('conflicts', orderless(found.flat()), conflicts);
    for (const [index, held] of all.entries()) {
      expectAsOracle(play, held, values[index] ?? {});
      expectNothingLost(play, held, found[index] ?? []);
    }
  }
  expectSameDerived(plays, touched);
}

describe('phones that write by themselves', () => {
  it(
    '[M1] [M3] agree on every value in every order of one round, and byte for byte in the same',
    () => {
      fc.assert(fc.property(scenarios(3, 1), check), { numRuns: RUNS });
    },
    PATIENCE_MS,
  );

  it(
    '[M2] agree as well where some of them pulled in between',
    () => {
      fc.assert(fc.property(scenarios(3, 4), check), { numRuns: RUNS });
    },
    PATIENCE_MS,
  );
});
