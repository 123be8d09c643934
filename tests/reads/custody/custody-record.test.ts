import { describe, expect, it } from 'vitest';
import { NOTHING_MOVED } from '../../../src/reads/custody/contents.ts';
import { custodyRecord } from '../../../src/reads/custody/custody-record.ts';
import type { ContentsChange } from '../../../src/rules/custody/contents-changes.ts';
import { coolerFacts } from '../../../src/rules/custody/cooler-facts.ts';
import type { FormerValue } from '../../../src/rules/custody/former-values.ts';
import { idOf, SamplesWorld } from '../../rules/samples/samples-world.ts';

const PARENT = '2026-05-04T10:00:00-05:00';
const TWIN = '2026-05-04T10:05:00-05:00';
const RECEIVED = '2026-05-04T18:00:00-05:00';
const writers = new Map();
const people = { firm: 'Example Firm', names: new Map(), initials: new Map() };

type Fields = Readonly<Record<string, unknown>>;

/** A parent and its blind duplicate, alone in a cooler that nobody closed and nobody signed for. */
function round(more: Fields = {}, type = 'blind-duplicate', told: Fields = {}): SamplesWorld {
  const own = { visit: 'visit-W1', number: '2605-77777', type, of: 'sample-W1', suites: ['Anions'] };
  const observed = { at: RECEIVED, entered: RECEIVED, captured: 'same-day', readBy: 'ann', writtenBy: 'ann' };
  return new SamplesWorld()
    .laboratory()
    .suite('Anions', [{ group: 'nitrate' }])
    .sampled('W1', ['Anions'], PARENT, { number: '2605-48213' })
    .add('sample', 'twin', { ...own, collected: TWIN, ...told })
    .add('cooler', 'c-1', { event: 'event-1', number: 'C1', laboratory: 'lab-1', ...more })
    .bottle('N-1', 'nitrate', { sample: 'sample-W1', suite: 'Anions', cooler: 'c-2' })
    .fill('N-1', PARENT)
    .bottle('N-2', 'nitrate', { sample: 'twin', suite: 'Anions', cooler: 'c-1' })
    .fill('N-2', TWIN)
    .add('sample-receipt', 'r-1', { event: 'event-1', cooler: 'c-1', received: RECEIVED, observed });
}

function recordOf(world: SamplesWorld, former: readonly FormerValue[] = [], cooler = 'c-1') {
  const of = world.samples();
  const its = of.coolers.find(({ id }) => id === idOf(cooler));
  if (!its) throw new Error('no cooler');
  return custodyRecord({ facts: coolerFacts(its, of), of, people, former, writers, contents: NOTHING_MOVED }, RECEIVED);
}

function formerly(record: string, field: string, was: string, reason = 'typing error'): readonly FormerValue[] {
  const written = { at: RECEIVED, uncertaintyMs: 0, client: null, mutation: null };
  return [{ record: idOf(record), kind: 'sample', field, was, is: '', at: RECEIVED, written, by: 'Ann', reason }];
}

describe('the custody record of a cooler with a blind duplicate', () => {
  it('prints no beginning of a gap that is the time of a bottle', () => {
    const { gaps } = recordOf(round());
    expect(gaps).toEqual([{ until: RECEIVED, sentence: expect.stringContaining('nobody signed') }]);
    const packed = '2026-05-04T17:00:00-05:00';
    expect(recordOf(round({ packed })).gaps[0]?.from).toBe(packed);
  });

  it('prints no number and no time that it had before', () => {
    const [was] = recordOf(round({}, 'normal'), formerly('twin', 'number', '2605-1')).samples;
    expect(was?.sampleNumber).toEqual({ now: '2605-77777', was: [expect.objectContaining({ text: '2605-1' })] });
    for (const [field, text] of [
      ['number', '2605-48213D'],
      ['number', '2605-1'],
      ['laboratoryTime', PARENT],
    ] as const) {
      const world = round({}, 'blind-duplicate', { laboratoryTime: '2026-05-04T09:15:00-05:00' });
      const [sample] = recordOf(world, formerly('twin', field, text)).samples;
      expect([sample?.sampleNumber, sample?.labelTime]).toEqual(['2605-77777', { at: '2026-05-04T09:15:00-05:00' }]);
    }
  });

  it('withholds of its parent what it was before where that names the other, and why', () => {
    const world = () => round().add('cooler', 'c-2', { event: 'event-1', number: 'C2', laboratory: 'lab-1' });
    const mixed = recordOf(world(), formerly('sample-W1', 'number', '2605-77777', 'mixed up with 2605-77777'), 'c-2');
    expect(JSON.stringify(mixed.samples)).not.toContain('2605-77777');
    expect(JSON.stringify(mixed.samples)).toContain('(withheld: ');
    const plain = recordOf(world(), formerly('sample-W1', 'number', '2605-1'), 'c-2');
    expect(JSON.stringify(plain.samples)).toContain('"text":"2605-1"');
  });
});

describe('a custody record of a cooler with a bottle of another event', () => {
  it('names it by its label, and tells nothing of its sample', () => {
    const world = round().bottle('X-9', 'nitrate', { event: 'event-2', sample: 'elsewhere', cooler: 'c-1' });
    const { samples, remarks } = recordOf(world.fill('X-9', PARENT));
    expect(samples.map(({ sampleNumber }) => sampleNumber)).toEqual(['2605-77777', 'not recorded']);
    expect(remarks).toEqual([expect.stringContaining('containers of another project, told by their labels: X-9.')]);
    expect(recordOf(round()).remarks).toEqual([]);
  });
});

describe('a custody record after which bottles were moved', () => {
  const SIGNED = '2026-05-04T16:00:00-05:00';
  const observed = { at: SIGNED, entered: SIGNED, captured: 'at-the-well', readBy: 'ann', writtenBy: 'ann' };
  const hand = { cooler: 'c-1', side: 'relinquished', at: SIGNED, name: 'Ann Poe', observed };

  function change(container: string, act: ContentsChange['act'], at: string): ContentsChange {
    const nobody = {
      uncertaintyMs: 0,
      client: null,
      mutation: null,
      by: 'Ben Roe',
      initials: 'BR',
      reason: 'twin of W1',
      other: null,
    };
    return { container: idOf(container), label: container, act, at, ...nobody };
  }

  function moved(at: string, world = round({}, 'normal')) {
    world
      .add('hand-over', 'h-1', hand)
      .bottle('N-3', 'nitrate', { sample: 'sample-W1', suite: 'Anions', cooler: 'c-1' });
    const of = world.samples();
    const [gone] = of.containers.filter(({ id }) => id === idOf('N-1'));
    const cooler = of.coolers.find(({ id }) => id === idOf('c-1'));
    if (!gone || !cooler) throw new Error('no cooler');
    const changes = [change('N-1', 'taken out', at), change('N-2', 'added', at)];
    const contents = { changes, gone: [gone] };
    return custodyRecord({ facts: coolerFacts(cooler, of), of, people, former: [], writers, contents }, RECEIVED);
  }

  it('has what left beside what stayed, marks what came, and tells neither why nor at what time', () => {
    const { samples, remarks } = moved('2026-05-04T17:31:00-05:00');
    const mark = { initials: 'BR', day: '2026-05-04' };
    expect(samples.map(({ sampleNumber, containers }) => [sampleNumber, containers])).toEqual([
      [
        '2605-48213',
        expect.arrayContaining([
          expect.objectContaining({ count: 1, takenOut: mark }),
          expect.not.objectContaining({ takenOut: mark }),
        ]),
      ],
      ['2605-77777', [expect.objectContaining({ count: 1, added: mark })]],
    ]);
    expect(remarks).toEqual([expect.stringContaining('added or taken out after it was signed for')]);
    expect(JSON.stringify(samples)).not.toMatch(/twin|17:31/);
  });

  it('pairs no blind duplicate with its parent by what was moved together: in its event they are only counted', () => {
    const world = round({}, 'blind-duplicate', { laboratoryTime: '2026-05-04T09:15:00-05:00' })
      .sampled('W2', ['Anions'], PARENT, { number: '2605-5' })
      .bottle('N-4', 'nitrate', { sample: 'sample-W2', suite: 'Anions', cooler: 'c-1' });
    world
      .add('hand-over', 'h-1', hand)
      .bottle('N-5', 'nitrate', { sample: 'sample-W1', suite: 'Anions', cooler: 'c-1' });
    const of = world.samples();
    const cooler = of.coolers.find(({ id }) => id === idOf('c-1'));
    if (!cooler) throw new Error('no cooler');
    const told = (changes: readonly ContentsChange[], gone: typeof of.containers = []) =>
      custodyRecord(
        { facts: coolerFacts(cooler, of), of, people, former: [], writers, contents: { changes, gone } },
        RECEIVED,
      );
    const plain = told([]);
    const late = '2026-05-04T17:31:00-05:00';
    const came = told(['N-2', 'N-5'].map((name) => change(name, 'added', late)));
    expect(came).toEqual({ ...plain, remarks: ['After it was signed for: 2 containers added (BR 2026-05-04).'] });
    const out = of.containers.filter(({ id }) => id === idOf('N-1'));
    const left = told([change('N-1', 'taken out', late)], out);
    expect(left).toEqual({ ...plain, remarks: ['After it was signed for: 1 container taken out (BR 2026-05-04).'] });
  });

  it('says nothing of what was packed before it was signed for', () => {
    const { samples, remarks } = moved('2026-05-04T15:59:00-05:00');
    expect(remarks).toEqual([]);
    expect(JSON.stringify(samples)).not.toMatch(/takenOut|added/);
  });
});

describe('a cooler of which the laboratory said more than once', () => {
  const observed = { at: RECEIVED, entered: RECEIVED, captured: 'same-day', readBy: 'ann', writtenBy: 'ann' };
  const said = (world: SamplesWorld, id: string, more: object) =>
    world.add('sample-receipt', id, { event: 'event-1', cooler: 'c-1', observed, ...more });

  it('stands on its record with every receipt, the first one first', () => {
    const world = round();
    const items = [{ label: 'N-2', condition: 'broken' }];
    said(world, 'r-2', { received: '2026-05-04T18:30:00-05:00', ice: true, containersCounted: 1, items });
    said(world, 'r-3', { received: '2026-05-04T19:00:00-05:00', temperatureC: '4.0' });
    const { receipt, laterReceipts } = recordOf(world);
    expect([receipt, ...(laterReceipts ?? [])].map((one) => [one?.ice, one?.temperatureC, one?.conditions])).toEqual([
      [undefined, undefined, []],
      [true, undefined, [{ label: 'N-2', condition: 'broken' }]],
      [undefined, '4.0', []],
    ]);
  });

  it('does not tell as missing in one go what was read in the other', () => {
    const world = round();
    const items = [{ label: 'N-2', condition: 'missing' }];
    said(world, 'r-2', { received: '2026-05-04T18:30:00-05:00', labels: [], items });
    expect(recordOf(world).laterReceipts?.[0]?.conditions).toEqual(items);
    said(world, 'r-3', { received: '2026-05-04T18:30:00-05:00', labels: ['N-2'] });
    expect(recordOf(world).laterReceipts?.map(({ conditions }) => conditions)).toEqual([[], []]);
  });
});
