import { describe, expect, it } from 'vitest';
import type { Held } from '../../../src/rules/held.ts';
import {
  DEEP,
  EVENT,
  FIRST_FIELDS,
  idOf,
  LATER,
  MEMBER,
  observedAt,
  POINTS,
  PURGE,
  READINGS,
  VISIT,
  WELL,
} from '../merge/merge-world.ts';
import { SimulatedServer, sent } from '../merge/simulated-server.ts';

const LEVEL = idOf(0xb4, 1);
const [READING] = READINGS;

function server(): SimulatedServer {
  const made = new SimulatedServer();
  const record = (mutationId: number, kind: string, id: string, set: object) =>
    made.take(sent(9, { mutationId, verb: 'record', kind, id, set }));
  record(1, 'visit', VISIT, FIRST_FIELDS.visit ?? {});
  record(2, 'purge', PURGE, FIRST_FIELDS.purge ?? {});
  record(3, 'reading', READING, { ...FIRST_FIELDS.reading, observed: observedAt(5) });
  const level = { visit: VISIT, purpose: 'before-purge', state: 'measured', depthToWaterFt: '12.04' };
  record(4, 'water-level', LEVEL, { ...level, measuringPoint: POINTS.shallow, observed: observedAt(1) });
  return made;
}

function take(made: SimulatedServer, phone: number, mutation: object): ReturnType<SimulatedServer['take']> {
  const decision = made.take(sent(phone, { ...mutation } as Record<string, unknown>));
  made.derive();
  return decision;
}

function resolve(made: SimulatedServer, conflict: Held, value: unknown, rev = conflict.state.rev) {
  const { id } = conflict.state;
  const set = { value };
  return take(made, 7, { mutationId: 1, verb: 'resolve', kind: 'conflict', id, base: { rev }, set, reason: 'sheet' });
}

const correction = (ph: string, id = READING) => {
  return { mutationId: 1, verb: 'amend', kind: 'reading', id, base: { rev: 1 }, set: { ph }, reason: 'misread' };
};

const goesTo = (set: object) => {
  return { mutationId: 1, verb: 'rehome', kind: 'visit', id: VISIT, base: { rev: 1 }, set, reason: 'wrong well' };
};

function resolutionOf(decision: ReturnType<SimulatedServer['take']>): Held | undefined {
  return 'changes' in decision ? decision.changes[0]?.held : undefined;
}

describe('a person decides a conflict', () => {
  it('[M7] writes the value chosen and lists every value that it was chosen over', () => {
    const made = server();
    take(made, 0, correction('7.05'));
    take(made, 1, correction('7.09'));
    const decision = resolve(made, made.conflictOf(READING), '7.05');
    expect(resolutionOf(decision)?.state.fields).toMatchObject({ subject: READING, value: '7.05', over: ['7.09'] });
    expect(made.held(READING)?.state.fields.ph).toBe('7.05');
    expect(made.conflictOf(READING).state.fields).toMatchObject({ standing: 'resolved', kept: [] });
    expect(made.held(READING)?.memory?.former.ph).toEqual(['7.01', '7.05', '7.09']);
  });

  it('[M7] may choose a third value, over both', () => {
    const made = server();
    take(made, 0, correction('7.05'));
    take(made, 1, correction('7.09'));
    const { id, rev } = made.conflictOf(READING).state;
    const decide = { mutationId: 1, verb: 'resolve', kind: 'conflict', id, base: { rev } };
    const neither = { value: '7.07', neither: true };
    const decision = take(made, 7, { ...decide, set: neither, reason: 'read it again with them' });
    expect(resolutionOf(decision)?.state.fields).toMatchObject({ value: '7.07', over: ['7.09', '7.05'] });
    expect(made.held(READING)?.state.fields.ph).toBe('7.07');
  });

  it('[M8] is refused a value that nobody gave, and told what may stand, unless it is said to be neither, with a reason', () => {
    const made = server();
    take(made, 0, correction('7.05'));
    take(made, 1, correction('7.09'));
    const { id, rev } = made.conflictOf(READING).state;
    const decide = { mutationId: 1, verb: 'resolve', kind: 'conflict', id, base: { rev } };
    expect(take(made, 7, { ...decide, set: { value: '7.59' }, reason: 'sheet' })).toMatchObject({
      outcome: 'refused',
      code: 'unreadable_record',
      detail:
        '"7.59" is none of the values of ph that are in conflict: "7.09", "7.05". Choose one of them, or say ' +
        '"neither": true and give a reason',
      pointer: '/set/value',
    });
    const unsaid = take(made, 7, { ...decide, set: { value: '7.59', neither: true } });
    expect(unsaid).toMatchObject({
      outcome: 'refused',
      detail: '"7.59" is none of the values of ph that are in conflict: "7.09", "7.05". Give the reason for it',
      pointer: '/reason',
    });
    expect([made.held(READING)?.state.fields.ph, made.conflictOf(READING).state.fields.standing]).toEqual([
      '7.09',
      'open',
    ]);
  });

  it('[M8] is told that the conflict has changed where a rival came in between', () => {
    const made = server();
    take(made, 0, correction('7.05'));
    take(made, 1, correction('7.09'));
    const looked = made.conflictOf(READING);
    take(made, 2, correction('7.11'));
    expect(resolve(made, looked, '7.05')).toMatchObject({ outcome: 'refused', code: 'conflict_changed' });
    expect(resolve(made, made.conflictOf(READING), '7.05', 9)).toMatchObject({ code: 'conflict_changed' });
  });

  it('[M8] is told so where it is decided already, or no conflict at all', () => {
    const made = server();
    take(made, 0, correction('7.05'));
    take(made, 1, correction('7.09'));
    resolve(made, made.conflictOf(READING), '7.05');
    expect(resolve(made, made.conflictOf(READING), '7.09')).toMatchObject({ code: 'not_a_conflict' });
    const event = made.world.get(EVENT);
    const decision = made.take(sent(7, { mutationId: 2, verb: 'resolve', kind: 'event', id: EVENT, base: { rev: 1 } }));
    expect(event?.state.fields.standing).toBe('open');
    expect(decision).toMatchObject({ outcome: 'refused', code: 'not_a_conflict' });
  });

  it('[M8] is refused a value that the field cannot take or that names nothing', () => {
    const made = server();
    take(made, 0, goesTo({ well: DEEP }));
    take(made, 1, goesTo({ well: WELL }));
    expect(resolve(made, made.conflictOf(VISIT), 'deep')).toMatchObject({ code: 'unreadable_record' });
    expect(resolve(made, made.conflictOf(VISIT), EVENT)).toMatchObject({ code: 'record_missing' });
  });

  it('[M8] is refused where no value is given, or where the record itself is not here', () => {
    const made = server();
    take(made, 0, correction('7.05'));
    take(made, 1, correction('7.09'));
    const conflict = made.conflictOf(READING);
    const base = { rev: conflict.state.rev };
    const decide = { mutationId: 1, verb: 'resolve', kind: 'conflict', id: conflict.state.id, base };
    expect(made.take(sent(7, decide))).toMatchObject({
      outcome: 'refused',
      code: 'unreadable_record',
      detail: 'value is missing: what stands as ph',
      pointer: '/set/value',
    });
    made.world.drop(READING);
    expect(made.take(sent(7, { ...decide, set: { value: '7.05' } }))).toMatchObject({
      outcome: 'refused',
      code: 'record_missing',
      detail: `the subject ${READING} of the conflict is not here`,
    });
  });

  it.each([true, false])(
    '[M7] says whether a record counts that one voided and another changed: void is %s',
    (isVoid) => {
      const made = server();
      const gone = { mutationId: 1, verb: 'void', kind: 'reading', id: READING, base: { rev: 1 }, reason: 'twice' };
      take(made, 0, gone);
      take(made, 1, correction('7.09'));
      const conflict = made.conflictOf(READING);
      expect(conflict.state.fields).toMatchObject({ type: 'void', standing: 'open' });
      expect(resolve(made, conflict, 'void')).toMatchObject({
        outcome: 'refused',
        code: 'unreadable_record',
        detail: 'value says whether the record is void: true or false',
      });
      const base = { rev: conflict.state.rev };
      const { id } = conflict.state;
      const set = { value: isVoid };
      const decision = take(made, 7, { mutationId: 2, verb: 'resolve', kind: 'conflict', id, base, set });
      expect(resolutionOf(decision)?.state.fields).toEqual({
        conflict: id,
        subject: READING,
        value: isVoid,
        over: [!isVoid],
      });
      const voided = { reason: 'no reason was given', by: MEMBER };
      expect(made.held(READING)?.state.voided).toEqual(isVoid ? voided : null);
      expect(made.held(READING)?.state.fields.ph).toBe('7.09');
      expect(made.conflictOf(READING).state.fields).toMatchObject({
        type: 'void',
        standing: 'resolved',
        kept: [],
        sentence: `Whether the reading of ${observedAt(5).at} at W-4S counts was decided by a person.`,
      });
    },
  );

  it('[M11] leaves both of two claims as they were made, and lists the rival beside the conflict', () => {
    const made = server();
    const rival = { crew: 'South crew' };
    const fields = {
      subject: VISIT,
      type: 'well-claim',
      standing: 'open',
      shown: { value: { crew: 'North crew' } },
      kept: [{ value: rival }],
    };
    const visit = made.held(VISIT);
    if (!visit) throw new Error('the server has no visit');
    const conflict: Held = {
      ...visit,
      feed: `event:${LATER}`,
      state: { ...visit.state, kind: 'conflict', id: idOf(0xcf, 1), fields },
    };
    made.world.put(conflict);
    const id = conflict.state.id;
    const decision = take(made, 7, { mutationId: 1, verb: 'resolve', kind: 'conflict', id, base: { rev: 1 } });
    expect(decision).toMatchObject({ outcome: 'applied' });
    expect('changes' in decision && decision.changes).toHaveLength(1);
    expect(resolutionOf(decision)).toMatchObject({ feed: `event:${LATER}`, parent: VISIT });
    expect(resolutionOf(decision)?.state.fields).toEqual({ conflict: id, subject: VISIT, over: [rival] });
    expect(made.held(VISIT)).toBe(visit);
  });

  it('[M9] moves a visit that two people re-homed to the place chosen, with everything under it', () => {
    const made = server();
    take(made, 0, goesTo({ event: LATER }));
    take(made, 1, goesTo({ event: EVENT }));
    expect(made.held(LEVEL)?.feed).toBe(`event:${EVENT}`);
    const decision = resolve(made, made.conflictOf(VISIT), LATER);
    const later = { feed: `event:${LATER}` };
    expect(made.held(VISIT)).toMatchObject({ ...later, parent: LATER, state: { fields: { event: LATER } } });
    for (const id of [LEVEL, PURGE, READING]) expect(made.held(id)).toMatchObject(later);
    expect(resolutionOf(decision)).toMatchObject(later);
    expect(made.conflictOf(VISIT)).toMatchObject(later);
  });

  it('[M9] lets levels cite the point of the well chosen', () => {
    const made = server();
    take(made, 0, goesTo({ well: DEEP }));
    expect(made.held(LEVEL)?.state.fields.measuringPoint).toBe(POINTS.old);
    take(made, 1, goesTo({ well: WELL }));
    expect(made.held(LEVEL)?.state.fields.measuringPoint).toBe(POINTS.shallow);
    resolve(made, made.conflictOf(VISIT), DEEP);
    expect(made.held(LEVEL)?.state.fields.measuringPoint).toBe(POINTS.old);
  });

  it('[M7] decides which purge a reading belongs to, and so where it lives', () => {
    const made = server();
    const other = idOf(0xb2, 2);
    take(made, 9, { mutationId: 5, verb: 'record', kind: 'purge', id: other, set: FIRST_FIELDS.purge });
    const amend = (purge: string) => ({ ...correction('7.01'), set: { purge } });
    take(made, 0, amend(other));
    take(made, 1, amend(PURGE));
    expect(made.held(READING)?.parent).toBe(PURGE);
    resolve(made, made.conflictOf(READING), other);
    expect(made.held(READING)).toMatchObject({ parent: other, state: { fields: { purge: other } } });
  });
});
