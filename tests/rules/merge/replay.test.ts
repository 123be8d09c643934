import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalText } from '../../../src/protocol/content-hash.ts';
import { isTaken } from '../../../src/rules/decide/decision.ts';
import { type LedgerChange, replayMemory } from '../../../src/rules/merge/replay.ts';
import { FIRST_FIELDS, observedAt, PURGE, READINGS, VISIT } from './merge-world.ts';
import { continued, interleave, prepare, scenarios } from './scenario.ts';
import { SimulatedServer, sent } from './simulated-server.ts';

/** A server that also writes down what the ledger would keep of each change, as JSON. */
class WithLedger extends SimulatedServer {
  readonly ledger = new Map<string, string[]>();

  override take(mutation: Parameters<SimulatedServer['take']>[0]): ReturnType<SimulatedServer['take']> {
    const decision = super.take(mutation);
    if (!isTaken(decision)) return decision;
    for (const { held, intent } of decision.changes) {
      const rows = this.ledger.get(held.state.id) ?? [];
      this.ledger.set(held.state.id, [...rows, JSON.stringify({ state: held.state, intent })]);
    }
    return decision;
  }

  expectReplayed(): void {
    for (const held of this.all()) {
      const changes = (this.ledger.get(held.state.id) ?? []).map((text) => JSON.parse(text) as LedgerChange);
      if (changes.length < held.state.rev) continue;
      const replayed = canonicalText(replayMemory(changes));
      if (replayed !== canonicalText(held.memory)) expect(replayMemory(changes)).toEqual(held.memory);
    }
  }
}

describe('a replay of the ledger', () => {
  it('[M12] rebuilds what is remembered for merging, for anything that phones do', () => {
    const property = fc.property(scenarios(3, 3), (scenario) => {
      const prepared = prepare(scenario);
      const taken = [...prepared.taken, ...interleave(prepared.last, scenario.at(-1)?.order ?? [0])];
      const server = new WithLedger();
      for (const { sent: mutation } of taken) server.take(mutation);
      server.expectReplayed();
      expect(server.all().length).toBe(continued(prepared, taken.slice(prepared.taken.length)).server.all().length);
    });
    fc.assert(property, { numRuns: process.env.LONG ? 20_000 : 300 });
  }, 600_000);

  it('[M12] rebuilds it for re-homings and decisions, which change records that they do not name', () => {
    const server = new WithLedger();
    const take = (phone: number, mutation: Record<string, unknown>) => {
      server.take(sent(phone, mutation));
      server.derive();
    };
    const [reading] = READINGS;
    const record = (mutationId: number, kind: string, id: string, set: object) =>
      take(9, { mutationId, verb: 'record', kind, id, set });
    record(1, 'visit', VISIT, FIRST_FIELDS.visit ?? {});
    record(2, 'purge', PURGE, FIRST_FIELDS.purge ?? {});
    record(3, 'reading', reading, { ...FIRST_FIELDS.reading, observed: observedAt(5) });
    const amend = { verb: 'amend', kind: 'reading', id: reading, base: { rev: 1 }, reason: 'misread' };
    take(0, { ...amend, mutationId: 1, set: { ph: '7.05' } });
    take(1, { ...amend, mutationId: 1, set: { ph: '7.09' } });
    const { id, rev } = server.conflictOf(reading).state;
    take(7, { mutationId: 1, verb: 'resolve', kind: 'conflict', id, base: { rev }, set: { value: '7.05' } });
    server.expectReplayed();
    expect(server.held(reading)?.memory?.resolutions).toHaveProperty('ph');
  });

  it('[M12] remembers nothing for a record that was never changed', () => {
    expect(replayMemory([])).toBeNull();
  });
});
