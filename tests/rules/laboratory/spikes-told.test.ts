import { describe, expect, it } from 'vitest';
import { sampleListCsv } from '../../../src/documents/sample-list/sample-list-csv.ts';
import { NOTHING_MOVED } from '../../../src/reads/custody/contents.ts';
import { custodyRecord } from '../../../src/reads/custody/custody-record.ts';
import { eventLabels } from '../../../src/reads/custody/event-labels.ts';
import { coolerFacts } from '../../../src/rules/custody/cooler-facts.ts';
import { laboratoryList, toldToLaboratory } from '../../../src/rules/laboratory/laboratory-list.ts';
import { officeList } from '../../../src/rules/laboratory/office-list.ts';
import { toldOrders } from '../../../src/rules/laboratory/orders-told.ts';
import { idOf, SamplesWorld } from '../samples/samples-world.ts';

const AT = '2026-05-04T10:00:00-05:00';
const people = { firm: 'Example Firm', names: new Map(), initials: new Map() };
const SUITES = ['VOC', 'Metals', 'Anions'];
const where = { event: 'event-1', standing: 'planned' };

interface Round {
  /** What the spike names as its first sample. */
  readonly of?: string | undefined;
  readonly isTaken?: boolean;
  readonly standing?: 'planned' | 'dropped';
}

/** A sample of three suites; a spike of two of them with an extra vial; a blind duplicate of all. */
function round({ of = 'sample-W1', isTaken = true, standing = 'planned' }: Round = {}) {
  const own = { visit: 'visit-W1', collected: AT };
  const laboratoryOf = SUITES.map((suite) => ({ suite, laboratory: 'lab-1' }));
  const world = new SamplesWorld('America/Chicago', { laboratoryOf })
    .laboratory()
    .suite('VOC', [{ group: 'volatiles' }])
    .suite('Metals', [{ group: 'metals-total' }])
    .suite('Anions', [{ group: 'nitrate' }])
    .add('planned-sample', 'p-1', { ...where, number: '2605-10', type: 'normal', suites: SUITES, well: 'W1' })
    .add('planned-sample', 'p-2', {
      ...where,
      standing,
      number: '2605-20',
      type: 'matrix-spike',
      of: 'p-1',
      suites: ['VOC', 'Metals'],
      well: 'W1',
    })
    .sampled('W1', SUITES, AT, { number: '2605-10', laboratoryNumber: '2605-99', planned: 'p-1' })
    .add('sample', 'twin', { ...own, number: '2605-30', type: 'blind-duplicate', of: 'sample-W1', suites: SUITES })
    .add('cooler', 'c-1', { event: 'event-1', number: 'C1', laboratory: 'lab-1', packed: AT });
  const taken = { ...own, number: '2605-20', type: 'matrix-spike', suites: ['VOC', 'Metals'], planned: 'p-2', of };
  if (isTaken) world.add('sample', 'spike', taken);
  const bottles = [
    ['P-1', 'volatiles', 'sample-W1', 'VOC'],
    ['P-2', 'metals-total', 'sample-W1', 'Metals'],
    ['P-3', 'nitrate', 'sample-W1', 'Anions'],
    ['T-1', 'volatiles', 'twin', 'VOC'],
    ['T-2', 'metals-total', 'twin', 'Metals'],
    ...(isTaken ? [['M-1', 'volatiles', 'spike', 'VOC']] : []),
  ];
  for (const [label = '', group = '', sample = '', suite = ''] of bottles) {
    world.bottle(label, group, { sample, suite, cooler: 'c-1' }).fill(label, AT);
  }
  return world.samples();
}

function spikesOf(of = round()) {
  const rows = [...laboratoryList(toldToLaboratory(of, idOf('lab-1')))];
  return rows.map((row) => [row.labelId, row.isForMatrixSpike, row.spikeOf, row.spikeAnalyses]);
}

const VOC = 'Volatile organic compounds, acidified';
const METALS = 'Metals, total';
const OTHERS = ['P-1', 'P-3', 'T-1', 'T-2'].map((label) => [label, undefined, undefined, undefined]);
const others = (rows: readonly (readonly unknown[])[]) => rows.filter(([label]) => !/^(M-1|P-2)$/.test(String(label)));
const row = (rows: readonly (readonly unknown[])[], label: string) => rows.find(([one]) => one === label);

describe('what a laboratory is to spike', () => {
  it('stands on its list: extra bottles name the sample by its told number, and that has its metals marked', async () => {
    const rows = spikesOf();
    expect(row(rows, 'M-1')).toEqual(['M-1', true, '2605-99', [expect.any(String)]]);
    expect(row(rows, 'P-2')).toEqual(['P-2', true, undefined, [expect.any(String)]]);
    expect(others(rows).toSorted()).toEqual(OTHERS);
    let csv = '';
    for await (const part of sampleListCsv(laboratoryList(toldToLaboratory(round(), idOf('lab-1'))))) csv += part;
    const [heading = '', ...lines] = csv.split(/\r?\n/);
    expect(heading).toMatch(/,matrixSpike,.*,spikeOf,spikeAnalyses$/);
    expect(lines.find((line) => line.includes('M-1'))).toContain(',2605-99,');
    // the list of the office has the numbers of the field
    const office = [...officeList(round())].find(({ labelId }) => labelId === 'M-1');
    expect(office?.spikeOf).toBe('2605-10');
  });

  it('is marked also where the spike has no bottle of its own, or was not recorded; not where it was dropped', () => {
    expect(row(spikesOf(round({ isTaken: false })), 'P-2')?.[1]).toBe(true);
    expect(row(spikesOf(round({ isTaken: false, standing: 'dropped' })), 'P-2')?.[1]).toBeUndefined();
  });

  it('never names a blind duplicate, nor marks one', () => {
    const rows = spikesOf(round({ of: 'twin' }));
    expect(row(rows, 'M-1')?.slice(0, 3)).toEqual(['M-1', true, undefined]);
    expect(rows.filter(([label]) => String(label).startsWith('T')).every(([, mark]) => mark === undefined)).toBe(true);
  });

  it('stands on the custody record', () => {
    const of = round();
    const cooler = of.coolers[0];
    if (!cooler) throw new Error('no cooler');
    const { samples } = custodyRecord(
      { facts: coolerFacts(cooler, of), of, people, former: [], writers: new Map(), contents: NOTHING_MOVED },
      AT,
    );
    const found = samples.map(({ sampleNumber, isForMatrixSpike, spikeOf, containers }) => [
      sampleNumber,
      isForMatrixSpike,
      spikeOf,
      containers.filter(({ spikeAnalyses }) => spikeAnalyses !== undefined).length,
    ]);
    expect(found).toEqual([
      ['2605-20', true, '2605-99', 1],
      ['2605-30', undefined, undefined, 0],
      ['2605-99', true, undefined, 1],
    ]);
  });

  it('stands on labels', () => {
    const { labels } = eventLabels(round(), {}, people);
    const found = labels.filter(({ spikeAnalyses }) => spikeAnalyses).map((one) => [one.labelId, one.spikeOf]);
    expect(found).toEqual([
      ['M-1', '2605-99'],
      ['P-2', undefined],
    ]);
  });

  it('stands in the orders by the plan alone, with the extra bottles that are to come', () => {
    const { spikes, expected } = toldOrders(toldToLaboratory(round({ isTaken: false }), idOf('lab-1')));
    expect(spikes).toEqual([
      { sampleNumber: '2605-20', spikeOf: '2605-10', fromExtraBottles: [VOC], fromBottlesOfThatSample: [METALS] },
    ]);
    // 3 vials, a bottle of metals and one of nitrate, and the vials of the spike twice more
    expect(expected.containers).toBe(3 + 1 + 1 + 6);
    expect(toldOrders(toldToLaboratory(round(), idOf('lab-1'))).spikes).toEqual(spikes);
  });
});
