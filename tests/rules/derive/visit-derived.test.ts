import { describe, expect, it } from 'vitest';
import { bundleOf } from '../../../src/rules/derive/bundle-of.ts';
import { flagDerived } from '../../../src/rules/derive/flag-derived.ts';
import { visitDerived } from '../../../src/rules/derive/visit-derived.ts';
import type { RaisedFlag } from '../../../src/rules/flags/raised-flag.ts';
import type { Held } from '../../../src/rules/held.ts';
import {
  DEEP,
  EVENT,
  emptyWorld,
  FIRM,
  FIRST_FIELDS,
  idOf,
  MEMBER,
  observedAt,
  PURGE,
  READINGS,
  VISIT,
  WELL,
} from '../merge/merge-world.ts';
import { SimulatedServer, sent } from '../merge/simulated-server.ts';

let last = 0;
function take(server: SimulatedServer, more: Readonly<Record<string, unknown>>): void {
  last += 1;
  server.take(sent(1, { mutationId: last, ...more }));
}

/** A visit with a purge and a reading whose pH no water has. */
function visited(): SimulatedServer {
  const server = new SimulatedServer();
  take(server, { verb: 'record', kind: 'visit', id: VISIT, set: FIRST_FIELDS.visit });
  take(server, { verb: 'record', kind: 'purge', id: PURGE, set: FIRST_FIELDS.purge });
  const set = { ...FIRST_FIELDS.reading, ph: '15.20', meter: idOf(0xd1, 1), observed: observedAt(5) };
  // the unit is not here: a phone may name one that the office has not entered
  server.world.put(held('reading', READINGS[0], set, { parent: PURGE, visit: VISIT }));
  return server;
}

function held(kind: string, id: string, fields: Held['state']['fields'], place: Partial<Held> = {}): Held {
  const nobody = { by: MEMBER, client: null, mutation: null, reason: null, clock: null };
  const state = { kind, id, rev: 1, voided: null, ...nobody, fields };
  return { state, feed: `event:${EVENT}`, parent: null, visit: null, memory: null, ...place };
}

const kinds = (server: SimulatedServer) => server.derived().map(({ kind }) => kind);

describe('what follows from a visit', () => {
  it('is an assessment and its flags, beside the purge', () => {
    const server = visited();
    // a meter that is here is one of the units that the visit is judged by, one that is not is left out
    expect(bundleOf(VISIT, server.world)?.units.size).toBe(0);
    server.world.put(
      held('unit', idOf(0xd1, 1), { type: 'multi-parameter-meter', label: 'Meter 1' }, { feed: 'firm' }),
    );
    expect(bundleOf(VISIT, server.world)?.units.size).toBe(1);
    expect(kinds(server)).toEqual(['assessment', 'flag', 'flag']);
    const [assessment, ...flags] = server.derived();
    const flag = flags.find(({ fields }) => fields.rule === 'value-not-believable');
    expect(assessment).toMatchObject({ parent: PURGE, visit: VISIT, feed: `event:${EVENT}` });
    expect(flag).toMatchObject({ parent: PURGE, visit: VISIT, fields: { well: WELL } });
  });

  it('is no assessment of a purge that was voided, and nothing of a visit that was', () => {
    const server = visited();
    take(server, { verb: 'void', kind: 'purge', id: PURGE, base: { rev: 1 }, reason: 'entered twice' });
    expect(kinds(server)).toEqual([]);
    const other = visited();
    take(other, { verb: 'void', kind: 'visit', id: VISIT, base: { rev: 1 }, reason: 'entered twice' });
    expect(kinds(other)).toEqual([]);
  });

  it('is nothing while the visit, its event or its well is not here', () => {
    expect(visitDerived(FIRM, VISIT, emptyWorld())).toEqual([]);
    for (const missing of [EVENT, WELL]) {
      const server = visited();
      server.world.drop(missing);
      expect(bundleOf(VISIT, server.world)).toBeUndefined();
      expect(server.derived()).toEqual([]);
    }
  });

  it('sees the other wells of the nest, and none where the well is in no nest', () => {
    const server = visited();
    expect(bundleOf(VISIT, server.world)?.nestWells.map(({ id }) => id)).toEqual([DEEP]);
    const well = server.world.get(WELL);
    if (!well) throw new Error('the world has no well');
    const { nest: _, ...fields } = well.state.fields;
    server.world.put({ ...well, state: { ...well.state, fields } });
    expect(bundleOf(VISIT, server.world)?.nestWells).toEqual([]);
  });
});

describe('a flag as a record', () => {
  const raised: RaisedFlag = {
    rule: 'of-the-case',
    subjectKind: 'purge',
    subject: PURGE,
    severity: 'note',
    addressee: 'office',
    sentence: 'Look.',
    evidence: [{ record: PURGE, field: 'began', shows: '10:00' }],
    standing: 'raised',
  };
  const subject = held('device', idOf(0xd2, 1), {}, { feed: 'firm' });

  it('about something that belongs to no visit names none, nor a well', () => {
    const flag = flagDerived(FIRM, raised, { subject, visit: null }, emptyWorld());
    expect(flag).toMatchObject({ feed: 'firm', visit: null, fields: { standing: 'raised' } });
    expect(Object.keys(flag.fields)).not.toContain('visit');
    expect(Object.keys(flag.fields)).not.toContain('well');
  });

  it('names no well where its visit has none yet', () => {
    const visit = held('visit', VISIT, {});
    expect(flagDerived(FIRM, raised, { subject, visit }, emptyWorld()).fields).not.toHaveProperty('well');
  });

  it('is reviewed by the newest review of just this evidence, whichever came first', () => {
    const place = { subject, visit: null };
    const { id, fields } = flagDerived(FIRM, raised, place, emptyWorld());
    const review = (number: number, minute: number, evidenceHash: unknown, voided = false): Held => {
      const one = held('flag-review', idOf(0xd3, number), { flag: id, evidenceHash, observed: observedAt(minute) });
      const state = { ...one.state, voided: voided ? { reason: 'mistaken', by: null } : null };
      return { ...one, parent: id, state };
    };
    const reviews = [
      review(1, 10, fields.evidenceHash),
      review(2, 30, fields.evidenceHash),
      review(3, 20, fields.evidenceHash),
      review(4, 40, '0123456789abcdef'),
      review(5, 50, fields.evidenceHash, true),
    ];
    for (const order of [reviews, reviews.toReversed()]) {
      const world = emptyWorld();
      for (const one of order) world.put(one);
      expect(flagDerived(FIRM, raised, place, world).fields).toMatchObject({
        standing: 'reviewed',
        review: idOf(0xd3, 2),
      });
      const cleared = flagDerived(FIRM, { ...raised, standing: 'cleared' }, place, world);
      expect(cleared.fields).toMatchObject({ standing: 'cleared' });
    }
  });
});
