import { describe, expect, it } from 'vitest';
import { isTaken } from '../../../src/rules/decide/decision.ts';
import {
  DEEP,
  EVENT,
  FIRST_FIELDS,
  idOf,
  LATER,
  observedAt,
  POINTS,
  PURGE,
  READINGS,
  VISIT,
  WELL,
} from '../merge/merge-world.ts';
import { SimulatedServer, sent } from '../merge/simulated-server.ts';

const MORNING = idOf(0xb4, 1);
const NOON = idOf(0xb4, 2);
const BARE = idOf(0xb4, 3);
const [READING] = READINGS;

/** A visit to the shallow well with levels in the morning and past noon, when the deep well has another point. */
function server(): SimulatedServer {
  const made = new SimulatedServer();
  const record = (mutationId: number, kind: string, id: string, set: object) =>
    made.take(sent(9, { mutationId, verb: 'record', kind, id, set }));
  const level = { visit: VISIT, purpose: 'pumping', state: 'measured', depthToWaterFt: '12.04' };
  const noon = '2026-05-04T12:30:00-05:00';
  record(1, 'visit', VISIT, FIRST_FIELDS.visit ?? {});
  record(2, 'purge', PURGE, FIRST_FIELDS.purge ?? {});
  record(3, 'reading', READING, { ...FIRST_FIELDS.reading, observed: observedAt(5) });
  record(4, 'water-level', MORNING, { ...level, measuringPoint: POINTS.shallow, observed: observedAt(1) });
  const late = { ...observedAt(1), at: noon, entered: noon };
  record(5, 'water-level', NOON, { ...level, measuringPoint: POINTS.shallow, observed: late });
  record(6, 'water-level', BARE, { ...level, observed: observedAt(2) });
  made.derive();
  return made;
}

function rehome(made: SimulatedServer, set: object, more: object = { reason: 'wrong well of the nest' }) {
  return made.take(
    sent(7, { mutationId: 1, verb: 'rehome', kind: 'visit', id: VISIT, base: { rev: 1 }, set, ...more }),
  );
}

describe('re-homing a visit', () => {
  it('[M9] gives every level the measuring point of the right well that was valid when it was taken', () => {
    const made = server();
    const decision = rehome(made, { well: DEEP });
    expect(isTaken(decision) && decision.changes.map((change) => change.held.state.id)).toEqual([VISIT, MORNING, NOON]);
    expect(made.held(MORNING)?.state.fields.measuringPoint).toBe(POINTS.old);
    expect(made.held(NOON)?.state.fields.measuringPoint).toBe(POINTS.raised);
    expect(made.held(NOON)?.state).toMatchObject({ reason: 'wrong well of the nest', rev: 2 });
    expect(made.held(BARE)?.state.rev).toBe(1);
  });

  it('[M9] keeps the former point readable, and changes nothing more when repeated', () => {
    const made = server();
    rehome(made, { well: DEEP });
    expect(made.held(MORNING)?.memory?.former.measuringPoint).toEqual([POINTS.shallow]);
    const again = { mutationId: 2, verb: 'rehome', kind: 'visit', id: VISIT, base: { rev: 2 }, set: { well: DEEP } };
    const decision = made.take(sent(7, { ...again, reason: 'again' }));
    expect(isTaken(decision) && decision.changes).toHaveLength(1);
  });

  it('[M9] takes everything under the visit to the feed of another event', () => {
    const made = server();
    const decision = rehome(made, { event: LATER });
    const ids = [VISIT, PURGE, READING, MORNING, NOON, BARE];
    expect(isTaken(decision) && decision.changes.map((change) => [change.held.feed, change.leaves])).toEqual(
      ids.map(() => [`event:${LATER}`, `event:${EVENT}`]),
    );
    expect(made.held(VISIT)?.parent).toBe(LATER);
    expect(made.held(READING)?.parent).toBe(PURGE);
    made.derive();
    const derived = made.world.ofVisit(VISIT).filter((held) => held.state.client === null);
    expect(new Set(derived.map((held) => held.feed))).toEqual(new Set([`event:${LATER}`]));
    expect(derived.length).toBeGreaterThan(1);
  });

  it('[M9] needs a reason, is for visits, and sets nothing but well and event', () => {
    const made = server();
    expect(rehome(made, { well: DEEP }, {})).toMatchObject({ outcome: 'set_aside', code: 'reason_missing' });
    expect(rehome(made, { well: DEEP, outcome: 'dry' })).toMatchObject({ code: 'nothing_to_change' });
    expect(rehome(made, {})).toMatchObject({ outcome: 'refused', code: 'nothing_to_change' });
    const purge = { mutationId: 2, verb: 'rehome', kind: 'purge', id: PURGE, set: {}, reason: 'x' };
    expect(made.take(sent(7, purge))).toMatchObject({ code: 'not_rehomable' });
    const amend = { mutationId: 3, verb: 'amend', kind: 'visit', id: VISIT, base: { rev: 1 }, set: { well: WELL } };
    expect(made.take(sent(7, amend))).toMatchObject({ outcome: 'refused', code: 'home_fixed' });
  });

  it('[M9] keeps two re-homings by people who did not know of each other as a conflict', () => {
    const made = server();
    rehome(made, { well: DEEP });
    const other = { mutationId: 1, verb: 'rehome', kind: 'visit', id: VISIT, base: { rev: 1 }, set: { well: WELL } };
    expect(made.take(sent(6, { ...other, reason: 'sure' }))).toMatchObject({ outcome: 'conflict_kept' });
    made.derive();
    expect(made.conflictOf(VISIT).state.fields).toMatchObject({ field: 'well', shown: { value: WELL } });
  });
});
