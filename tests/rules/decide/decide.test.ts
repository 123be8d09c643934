import { describe, expect, it } from 'vitest';
import type { Role } from '../../../src/protocol/kind.ts';
import { KINDS } from '../../../src/protocol/kinds-by-name.ts';
import { decide } from '../../../src/rules/decide/decide.ts';
import { type Decision, isTaken } from '../../../src/rules/decide/decision.ts';
import { checkReferences, neededIds } from '../../../src/rules/decide/references.ts';
import type { Seen } from '../../../src/rules/merge/register.ts';
import type { Overlay } from '../../../src/rules/overlay.ts';
import {
  DEEP,
  EVENT,
  emptyWorld,
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
import { clientOf, SimulatedServer, sent } from '../merge/simulated-server.ts';

const [READING] = READINGS;
const NOBODY = idOf(0xaa, 9);
const CREW = idOf(0xc1, 1);

/** A visit with a purge and a reading, which phone 9 recorded. */
function server(): SimulatedServer {
  const made = new SimulatedServer();
  const record = (mutationId: number, kind: string, id: string, more: object = {}) =>
    made.take(sent(9, { mutationId, verb: 'record', kind, id, set: { ...FIRST_FIELDS[kind], ...more } }));
  record(1, 'visit', VISIT);
  record(2, 'purge', PURGE);
  record(3, 'reading', READING, { observed: observedAt(5) });
  return made;
}

/** What becomes of a mutation that phone 1 sends, which has everything in view at revision 1. */
function decided(
  world: Overlay,
  mutation: object,
  role: Role = 'coordinator',
  seen: Seen | null = { rev: 1 },
): Decision {
  const { read } = sent(1, { mutationId: 1, ...mutation });
  return decide({ read, writer: { client: clientOf(1), role, person: MEMBER }, clock: null, seen }, world);
}

describe('who may write', () => {
  const member = { verb: 'record', kind: 'member', id: NOBODY, set: { name: 'A', initials: 'A', standing: 'active' } };

  it('[W8] what a role may not write waits for somebody with the right, and says which role it was', () => {
    expect(decided(emptyWorld(), member, 'crew')).toEqual({
      outcome: 'set_aside',
      code: 'right_missing',
      detail: 'the role crew may not write a member',
      waitsFor: [],
    });
    expect(decided(emptyWorld(), member)).toMatchObject({ outcome: 'applied' });
  });

  it.each(['coordinator', 'admin'] as const)('[M7] a conflict is decided by the office: %s', (role) => {
    const conflict = { verb: 'resolve', kind: 'conflict', id: EVENT, base: { rev: 1 }, set: { value: 'x' } };
    expect(decided(emptyWorld(), conflict, role)).toMatchObject({ code: 'kind_differs' });
    for (const other of ['crew', 'dashboard'] as const) {
      expect(decided(emptyWorld(), conflict, other)).toMatchObject({ outcome: 'set_aside', code: 'right_missing' });
    }
  });

  it('[W12] a release that was set aside, since its author may not release, cannot be released in its turn', () => {
    const release = { verb: 'release', kind: 'set-aside', id: idOf(0xaf, 1) };
    for (const role of ['crew', 'admin'] as const) {
      const decision = decided(emptyWorld(), release, role);
      expect(decision).toMatchObject({ outcome: 'refused', code: 'not_set_aside', pointer: '/id' });
      expect(decision).toMatchObject({ detail: expect.stringContaining(`release ${idOf(0xaf, 1)}`) });
    }
  });
});

describe('what a change is about', () => {
  it.each(['amend', 'void', 'rehome'])('[W8] %s of a record that is not here waits for it', (verb) => {
    const change = { verb, kind: 'visit', id: VISIT, set: { well: DEEP }, reason: 'x' };
    expect(decided(emptyWorld(), change)).toMatchObject({
      outcome: 'set_aside',
      code: 'parent_missing',
      detail: `visit ${VISIT} is not here yet`,
      waitsFor: [VISIT],
    });
  });

  it('[W8] means nothing where the record is of another kind', () => {
    const change = { verb: 'void', kind: 'purge', id: READING, reason: 'x' };
    expect(decided(server().world, change)).toMatchObject({
      outcome: 'refused',
      code: 'kind_differs',
      detail: `${READING} is a reading, not a purge`,
      pointer: '/kind',
    });
  });

  it('[W8] a record under an id that another has waits for a person, whether of another kind or elsewhere', () => {
    const { world } = server();
    const purge = { verb: 'record', kind: 'purge', set: FIRST_FIELDS.purge };
    expect(decided(world, { ...purge, id: READING })).toMatchObject({
      outcome: 'set_aside',
      code: 'id_taken',
      detail: `${READING} is already a reading elsewhere`,
    });
    const visit = { verb: 'record', kind: 'visit', id: VISIT, set: { ...FIRST_FIELDS.visit, event: LATER } };
    expect(decided(world, visit)).toMatchObject({ outcome: 'set_aside', code: 'id_taken' });
    expect(world.get(VISIT)?.state.fields.event).toBe(EVENT);
  });
});

describe('what a mutation names', () => {
  const reading = { purge: PURGE, ph: '7.01', observed: observedAt(5) };
  const record = { verb: 'record', kind: 'reading', id: READINGS[1], set: reading };

  it('[W8] is waited for, each once, and every field that names it is told', () => {
    const observed = { ...observedAt(5), readBy: NOBODY, writtenBy: NOBODY };
    const decision = decided(emptyWorld(), { ...record, set: { ...reading, observed }, requires: [idOf(0xd1, 1)] });
    expect(decision).toMatchObject({
      outcome: 'set_aside',
      code: 'parent_missing',
      waitsFor: [idOf(0xd1, 1), PURGE, NOBODY],
    });
    const fields = ['requires', 'purge', 'observed/readBy', 'observed/writtenBy'];
    for (const field of fields) expect(decision).toMatchObject({ detail: expect.stringContaining(`${field} `) });
  });

  it('[W8] a required record may be of any kind', () => {
    expect(decided(server().world, { ...record, requires: [WELL, EVENT] })).toMatchObject({ outcome: 'applied' });
  });

  it('[W8] must be of the kind that the field asks for', () => {
    const decision = decided(server().world, { ...record, set: { ...reading, purge: VISIT } });
    expect(decision).toMatchObject({
      outcome: 'set_aside',
      code: 'reference_of_other_kind',
      detail: `purge names ${VISIT}, which is a visit, where a purge is expected`,
      waitsFor: [],
    });
  });

  it('[W8] is waited for first, where another name is of the wrong kind', () => {
    const decision = decided(server().world, { ...record, set: { ...reading, purge: VISIT, meter: NOBODY } });
    expect(decision).toMatchObject({ code: 'parent_missing', waitsFor: [NOBODY] });
  });

  it('[W8] the person at the device is a member, who may enter themselves', () => {
    const set = { name: 'New', initials: 'N', standing: 'active' };
    const member = { verb: 'record', kind: 'member', id: NOBODY, set };
    const own = decided(emptyWorld(), { ...member, by: NOBODY });
    expect(isTaken(own) && own.changes[0]?.held.state.by).toBe(NOBODY);
    expect(decided(emptyWorld(), { ...member, by: idOf(0xaa, 8) })).toMatchObject({ waitsFor: [idOf(0xaa, 8)] });
    expect(decided(emptyWorld(), { ...member, by: CREW })).toMatchObject({ code: 'reference_of_other_kind' });
  });

  it('[W8] is what the fields of record, amend and rehome say, and nothing that comes along with another verb', () => {
    const set = { purge: 'no id', observed: { readBy: 7 }, subject: 'no id' };
    const voids = sent(1, { mutationId: 1, verb: 'void', kind: 'reading', id: READING, set, reason: 'x' });
    expect(neededIds(voids.read)).toEqual([READING]);
    expect(checkReferences(voids.read, emptyWorld())).toBeNull();
    const resolves = sent(1, { mutationId: 1, verb: 'resolve', kind: 'conflict', id: READING, set });
    expect(neededIds(resolves.read)).toEqual([READING]);
    const records = sent(1, { ...record, mutationId: 1, requires: [WELL], by: NOBODY });
    expect(neededIds(records.read)).toEqual([READINGS[1], NOBODY, WELL, PURGE, MEMBER, MEMBER]);
  });

  it('[M7] is the record that a conflict is decided to name, where the value chosen is an id', () => {
    const resolve = (value: string) =>
      sent(1, { mutationId: 1, verb: 'resolve', kind: 'conflict', id: READING, set: { value } }).read;
    expect(neededIds(resolve(WELL))).toEqual([READING, WELL]);
    expect(neededIds(resolve('7.05'))).toEqual([READING]);
  });

  it('[W8] is all that has to be loaded: the record that another lives in is among its references', () => {
    const written = KINDS.filter(({ writers }) => writers.length > 0);
    const homes = written.flatMap(({ name, home, references }) =>
      home.in === 'parent' ? [{ name, named: home.field in references }] : [],
    );
    expect(homes).toContainEqual({ name: 'reading', named: true });
    expect(homes.filter(({ named }) => !named)).toEqual([]);
  });
});

describe('a correction', () => {
  const amend = (kind: string, id: string, set: object, more: object = { reason: 'misread' }) => {
    return { verb: 'amend', kind, id, base: { rev: 1 }, set, ...more };
  };

  it('[M6] of an observation needs a reason, of a fact none', () => {
    const { world } = server();
    expect(decided(world, amend('reading', READING, { ph: '7.05' }, {}))).toMatchObject({
      outcome: 'set_aside',
      code: 'reason_missing',
      detail: 'a correction of a reading needs a reason',
    });
    expect(decided(world, amend('visit', VISIT, { outcome: 'dry' }, {}))).toMatchObject({ outcome: 'applied' });
  });

  it('[M6] that sets nothing is refused', () => {
    expect(decided(server().world, amend('reading', READING, {}))).toMatchObject({
      outcome: 'refused',
      code: 'nothing_to_change',
      detail: 'no field of reading in set',
    });
  });

  it('[M9] does not move a fact out of where it lives, nor a reading out of its feed', () => {
    const { world } = server();
    const visit = idOf(0xb1, 2);
    const purge = idOf(0xb2, 2);
    const record = (kind: string, id: string, more: object) => {
      const decision = decided(world, { verb: 'record', kind, id, set: { ...FIRST_FIELDS[kind], ...more } });
      if (isTaken(decision)) for (const { held } of decision.changes) world.put(held);
    };
    record('visit', visit, { event: LATER });
    record('purge', purge, { visit });
    expect(decided(world, amend('purge', PURGE, { visit }))).toMatchObject({
      outcome: 'refused',
      code: 'home_fixed',
      detail: 'visit says where a purge lives and is not amended',
      pointer: '/set/visit',
    });
    expect(decided(world, amend('reading', READING, { purge }))).toMatchObject({ code: 'home_fixed' });
    expect(decided(world, amend('purge', PURGE, { visit: VISIT, remark: 'a' }))).toMatchObject({ outcome: 'applied' });
  });

  it('[M4] of what lives in the feed of the firm leaves it there', () => {
    const decision = decided(emptyWorld(), amend('crew', CREW, { name: 'South crew' }, {}));
    expect(isTaken(decision) && decision.changes[0]?.held).toMatchObject({
      feed: 'firm',
      parent: null,
      state: { fields: { name: 'South crew' } },
    });
  });
});

describe('voiding', () => {
  it('[M5] needs a reason', () => {
    const decision = decided(server().world, { verb: 'void', kind: 'reading', id: READING, base: { rev: 1 } });
    expect(decision).toMatchObject({
      outcome: 'set_aside',
      code: 'reason_missing',
      detail: 'voiding a reading needs a reason',
    });
  });

  it('[M5] what one knows to be void says nothing new', () => {
    const { world } = server();
    const gone = { verb: 'void', kind: 'reading', id: READING, base: { rev: 1 }, reason: 'twice' };
    const first = decided(world, gone);
    if (!isTaken(first)) throw new Error(first.detail);
    for (const { held } of first.changes) world.put(held);
    const again = decided(world, { ...gone, mutationId: 2, reason: 'again' }, 'coordinator', { rev: 2 });
    expect(isTaken(again) && again.outcome).toBe('applied');
    expect(isTaken(again) && again.changes[0]?.held.state.voided).toEqual({ reason: 'twice', by: MEMBER });
  });
});

describe('a visit that goes to another well', () => {
  const LEVEL = idOf(0xb4, 1);

  function withLevel(minute: number): SimulatedServer {
    const made = server();
    const level = { visit: VISIT, purpose: 'before-purge', state: 'measured', depthToWaterFt: '12.04' };
    const set = { ...level, measuringPoint: POINTS.shallow, observed: observedAt(minute) };
    made.take(sent(9, { mutationId: 4, verb: 'record', kind: 'water-level', id: LEVEL, set }));
    return made;
  }

  const goes = { mutationId: 1, verb: 'rehome', kind: 'visit', id: VISIT, base: { rev: 1 }, set: { well: DEEP } };

  it('[M9] leaves a level without a point where no point of that well was valid yet, beside its aliases', () => {
    const made = withLevel(1);
    made.world.drop(POINTS.old);
    const alias = { well: DEEP, name: 'W-4 old' };
    const state = { ...(made.held(READING)?.state ?? {}), kind: 'well-alias', id: idOf(0xe8, 1), fields: alias };
    const point = made.world.get(POINTS.raised);
    if (!point) throw new Error('the world has no point');
    made.world.put({ ...point, state: { ...point.state, ...state } });
    made.take(sent(7, { ...goes, reason: 'wrong well' }));
    expect(made.held(LEVEL)?.state.fields).not.toHaveProperty('measuringPoint');
    expect(made.held(LEVEL)?.memory?.former.measuringPoint).toEqual([POINTS.shallow]);
  });

  it('[M9] does not change the summary by hand, which cites a point too: that is derived anew', () => {
    const made = withLevel(1);
    const left = { left: '2026-05-04T11:30:00-05:00', outcome: 'sampled' };
    made.take(sent(9, { mutationId: 5, verb: 'amend', kind: 'visit', id: VISIT, base: { rev: 1 }, set: left }));
    made.derive();
    const summary = () => made.world.ofVisit(VISIT).find(({ state }) => state.kind === 'visit-summary')?.state;
    expect(summary()?.fields).toMatchObject({ well: WELL, measuringPoint: POINTS.shallow });
    const decision = made.take(sent(7, { ...goes, base: { rev: 2 }, reason: 'wrong well' }));
    expect(isTaken(decision) && decision.changes.map(({ held }) => held.state.id)).toEqual([VISIT, LEVEL]);
    made.derive();
    expect(summary()?.fields).toMatchObject({ well: DEEP, measuringPoint: POINTS.old });
  });
});
