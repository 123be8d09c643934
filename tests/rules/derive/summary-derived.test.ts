import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { visitSummary } from '../../../src/protocol/kinds/visit-summary.ts';
import { compareDerived, type Derived } from '../../../src/rules/derive/derived.ts';
import { derivedId } from '../../../src/rules/derived-id.ts';
import type { Held } from '../../../src/rules/held.ts';
import { DEEP, EVENT, FIRM, idOf, LATER, observedAt, PURGE, READINGS, VISIT, WELL } from '../merge/merge-world.ts';
import { type Sent, SimulatedServer, sent } from '../merge/simulated-server.ts';

const OTHER_SITE = `site:${idOf(0xe5, 2)}`;
const ELSEWHERE = idOf(0xe1, 9);
const CREW = idOf(0xc1, 1);

let last = 0;
function mutation(more: Readonly<Record<string, unknown>>): Sent {
  last += 1;
  return sent(1, { mutationId: last, ...more });
}

const visitSet = { event: EVENT, well: WELL, crew: CREW, method: 'low-flow', arrived: '2026-05-04T09:30:00-05:00' };
const made = () => [
  mutation({ verb: 'record', kind: 'visit', id: VISIT, set: visitSet }),
  mutation({ verb: 'record', kind: 'purge', id: PURGE, set: { visit: VISIT, began: '2026-05-04T10:00:00-05:00' } }),
];
const read = (index: number, ph: string) =>
  mutation({
    verb: 'record',
    kind: 'reading',
    id: READINGS[index],
    set: { purge: PURGE, ph, flowMlPerMin: '200', observed: observedAt(5 * index) },
  });
const change = (set: Readonly<Record<string, unknown>>) =>
  mutation({ verb: 'amend', kind: 'visit', id: VISIT, base: { rev: 99 }, set });
const ended = () => change({ outcome: 'sampled', left: '2026-05-04T11:30:00-05:00' });

function world(...all: readonly Sent[]): SimulatedServer {
  const server = new SimulatedServer();
  const well = server.world.get(DEEP);
  if (!well) throw new Error('the world has no deep well');
  server.world.put({ ...well, feed: OTHER_SITE, state: { ...well.state, id: ELSEWHERE } });
  for (const one of all) server.take(one);
  return server;
}

function summaries(server: SimulatedServer): readonly Derived[] {
  return server.derived().filter((one) => one.kind === 'visit-summary');
}

function storedSummaries(server: SimulatedServer): readonly Held[] {
  return server.world.ofVisit(VISIT).filter((held) => held.state.kind === 'visit-summary');
}

describe('the summary of a visit', () => {
  it('[D7] is none while the visit goes on, whatever is read in it', () => {
    expect(summaries(world(...made(), read(0, '7.01'), read(1, '7.02')))).toEqual([]);
  });

  it.each([{ outcome: 'no-access' }, { left: '2026-05-04T11:30:00-05:00' }])(
    '[D7] is there once the visit has an outcome or the crew has left: %j',
    (set) => {
      expect(summaries(world(...made(), change(set)))).toHaveLength(1);
    },
  );

  it('[D7] lives beside the well, in the feed of the site, and fits its kind', () => {
    const [summary, ...others] = summaries(world(...made(), read(0, '7.01'), ended()));
    expect(others).toEqual([]);
    expect(summary).toMatchObject({ feed: `site:${idOf(0xe5, 1)}`, parent: WELL, visit: VISIT });
    expect(summary?.fields).toMatchObject({ well: WELL, visit: VISIT, event: EVENT, ph: '7.01', outcome: 'sampled' });
    expect(visitSummary.fields.parse(JSON.parse(JSON.stringify(summary?.fields)))).toEqual(summary?.fields);
  });

  it('[D7] changes with a reading that comes late, and only then', () => {
    const server = world(...made(), read(0, '7.01'), ended());
    server.derive();
    server.take(mutation({ verb: 'amend', kind: 'purge', id: PURGE, base: { rev: 1 }, set: { remark: 'clear' } }));
    expect(compareDerived(storedSummaries(server), summaries(server))).toEqual({ put: [], withdrawn: [] });
    server.take(read(1, '7.30'));
    const { put } = compareDerived(storedSummaries(server), summaries(server));
    expect(put.map(({ held }) => [held.state.rev, held.state.fields.ph])).toEqual([[2, '7.30']]);
  });

  it('[D7] follows its visit to another well, and leaves the feed of the one site for that of the other', () => {
    const server = world(...made(), ended());
    server.derive();
    const move = (well: string) =>
      server.take(mutation({ verb: 'rehome', kind: 'visit', id: VISIT, set: { well }, reason: 'the other one' }));
    move(DEEP);
    const near = compareDerived(storedSummaries(server), summaries(server));
    expect(near.put.map(({ held, leaves }) => [held.parent, leaves])).toEqual([[DEEP, null]]);
    server.derive();
    move(ELSEWHERE);
    const far = compareDerived(storedSummaries(server), summaries(server));
    expect(far.put.map(({ held, leaves }) => [held.state.id, held.parent, held.feed, leaves])).toEqual([
      [storedSummaries(server)[0]?.state.id, ELSEWHERE, OTHER_SITE, `site:${idOf(0xe5, 1)}`],
    ]);
    expect(far.withdrawn).toEqual([]);
  });

  it('[D7] says which event it belongs to after the visit went to another', () => {
    const server = world(...made(), ended());
    server.take(mutation({ verb: 'rehome', kind: 'visit', id: VISIT, set: { event: LATER }, reason: 'the later one' }));
    expect(summaries(server).map(({ fields }) => [fields.event, fields.eventName])).toEqual([[LATER, LATER]]);
  });

  it('[D7] goes away where the visit is voided, or goes on after all, and comes back under its id', () => {
    const server = world(...made(), ended());
    server.derive();
    const [first] = storedSummaries(server);
    server.take(change({ outcome: null, left: null }));
    expect(compareDerived(storedSummaries(server), summaries(server)).withdrawn).toEqual([first]);
    server.derive();
    server.take(ended());
    expect(summaries(server).map(({ id }) => id)).toEqual([first?.state.id]);
    server.take(mutation({ verb: 'void', kind: 'visit', id: VISIT, base: { rev: 99 }, reason: 'not ours' }));
    expect(summaries(server)).toEqual([]);
  });

  it('[D7] is the same whatever came first: what was read, how it ended, or what was corrected', () => {
    const rest = [read(0, '7.01'), read(1, '7.05'), read(2, '6.98'), ended()];
    const correction = mutation({
      verb: 'amend',
      kind: 'purge',
      id: PURGE,
      set: { ended: '2026-05-04T10:50:00-05:00' },
    });
    const first = made();
    const [wanted] = summaries(world(...first, ...rest, correction));
    expect(wanted?.fields).toMatchObject({ ph: '6.98', purgeMin: '50' });
    const shuffled = fc.shuffledSubarray([...rest, correction], { minLength: 5, maxLength: 5 });
    fc.assert(
      fc.property(shuffled, (order) => {
        expect(summaries(world(...first, ...order))).toEqual([wanted]);
      }),
      { numRuns: 60 },
    );
  });

  it('is known by the firm and the visit alone', () => {
    const [summary] = summaries(world(...made(), ended()));
    expect(summary?.id).toBe(derivedId(FIRM, 'visit-summary', VISIT));
  });
});
