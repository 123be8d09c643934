import { describe, expect, it } from 'vitest';
import type { AnalyteGroup } from '../../../src/catalog/analytes/analyte-group.ts';
import { ANALYTE_GROUPS, analyteGroup } from '../../../src/catalog/analytes/analyte-groups.ts';
import { SHARED_BOTTLES } from '../../../src/catalog/analytes/shared-bottles.ts';
import { bottlesLine, coolingLine, holdingLine, preservationLine } from './group-lines.ts';

function group(id: string): AnalyteGroup {
  const found = analyteGroup(id);
  if (!found) throw new Error(`no group ${id}`);
  return found;
}

const HCL = 'hydrochloric-acid below 2';
const HNO3 = 'nitric-acid below 2';
const H2SO4 = 'sulfuric-acid below 2';
const TWO = 'E 7 d + A 40 d';
const COPY_2014 = /Table FS1000-4/;
const COPY_1995 = /1 July 1995/;
const PLAN = /sampling plan, county file/;
const ANSWERS = /SW-846, questions and answers/;
const RECALLED = /from memory$/;

/** Group, bottles, preservation, cooling, holding time, whose document the holding time is of. */
const ROWS: readonly (readonly [string, string, string, string, string, RegExp])[] = [
  ['volatiles', '3 x 40 G', HCL, '6', '14 d | not-preserved 7 d', PLAN],
  ['volatiles-unpreserved', '3 x 40 G', 'nothing', '6', '7 d', RECALLED],
  ['acrolein-acrylonitrile', '3 x 40 G', 'hydrochloric-acid from 4 to 5', '6', '14 d | not-preserved 3 d', RECALLED],
  ['dioxane-522', '1 x 500 amber G', 'sodium-bisulfate below 4', '10 for 48 h, 6', 'E 28 d + A 28 d', RECALLED],
  ['dioxane-8270', '1 x 1000 amber G', 'nothing', '6', TWO, RECALLED],
  ['dioxane-8260', '3 x 40 G', HCL, '6', '14 d', RECALLED],
  ['semivolatiles', '2 x 1000 amber G', 'nothing', '6', TWO, PLAN],
  ['polycyclic-aromatics', '1 x 1000 amber G', 'nothing', '6', TWO, PLAN],
  ['organochlorine-pesticides', '1 x 1000 amber G', 'nothing from 5 to 9', '6', TWO, PLAN],
  ['chlorinated-herbicides', '1 x 1000 amber G', 'nothing', '6', TWO, RECALLED],
  ['polychlorinated-biphenyls', '1 x 1000 amber G', 'nothing', '6', `${TWO} | other-list E 365 d + A 365 d`, PLAN],
  ['gasoline-range', '3 x 40 G', HCL, '6', '14 d', PLAN],
  ['diesel-and-oil-range', '1 x 1000 amber G', 'nothing', '6', TWO, PLAN],
  ['fumigants', '3 x 40 G', 'hydrochloric-acid/sodium-thiosulfate', '6', '14 d', PLAN],
  ['metals-total', '1 x 250-500 P/FP/G', HNO3, 'not', '180 d', ANSWERS],
  ['metals-dissolved', '1 x 250-500 P/FP/G', HNO3, 'not', '180 d', ANSWERS],
  ['mercury', '1 x 250 P/FP/G', HNO3, 'not', '28 d', ANSWERS],
  [
    'mercury-low-level',
    '1 x 250 FP/G',
    'hydrochloric-acid/bromine-monochloride',
    'not',
    'preserve 48 h + 90 d',
    RECALLED,
  ],
  [
    'chromium-hexavalent',
    '1 x 250 P/FP/G',
    'ammonium-sulfate-buffer from 9.3 to 9.7',
    '6',
    '28 d | not-preserved 24 h',
    COPY_2014,
  ],
  ['cyanide', '1 x 250-500 P/FP/G', 'sodium-hydroxide above 10', '6', '14 d | interference-left 24 h', COPY_2014],
  ['nitrate', '1 x 125 P/FP/G', 'nothing', '6', '48 h', RECALLED],
  ['nitrite', '1 x 125 P/FP/G', 'nothing', '6', '48 h', RECALLED],
  ['nitrate-plus-nitrite', '1 x 125 P/FP/G', H2SO4, '6', '28 d', RECALLED],
  ['ammonia', '1 x 500 P/FP/G', H2SO4, '6', '28 d', COPY_2014],
  ['kjeldahl-nitrogen', '1 x 500 P/FP/G', H2SO4, '6', '28 d', COPY_2014],
  ['phosphorus-total', '1 x 125 P/FP/G', H2SO4, '6', '28 d', COPY_1995],
  ['orthophosphate', '1 x 125 P/FP/G', 'nothing', '6', 'filter 15 min + 48 h', RECALLED],
  ['sulfate', '1 x 125 P/FP/G', 'nothing', '6', '28 d', COPY_1995],
  ['chloride', '1 x 125 P/FP/G', 'nothing', 'not', '28 d', COPY_2014],
  ['bromide', '1 x 125 P/FP/G', 'nothing', 'not', '28 d', COPY_2014],
  ['fluoride', '1 x 125 P', 'nothing', 'not', '28 d', COPY_2014],
  ['sulfide', '1 x 250 P/FP/G', 'zinc-acetate+sodium-hydroxide above 9', '6', '7 d', COPY_1995],
  ['alkalinity', '1 x 250 P/FP/G', 'nothing', '6', '14 d', COPY_2014],
  ['dissolved-solids', '1 x 250 P/FP/G', 'nothing', '6', '7 d', COPY_1995],
  ['suspended-solids', '1 x 1000 P/FP/G', 'nothing', '6', '7 d', COPY_1995],
  [
    'organic-carbon-total',
    '1 x 125 P/FP/G',
    'hydrochloric-acid/sulfuric-acid/phosphoric-acid below 2',
    '6',
    '28 d',
    RECALLED,
  ],
  [
    'organic-carbon-dissolved',
    '1 x 125 amber G',
    'hydrochloric-acid/sulfuric-acid/phosphoric-acid below 2',
    '6',
    '28 d',
    RECALLED,
  ],
  ['biochemical-oxygen-demand', '1 x 1000 P/FP/G', 'nothing', '6', '48 h', COPY_2014],
  ['chemical-oxygen-demand', '1 x 125 P/FP/G', H2SO4, '6', '28 d', COPY_2014],
  ['hardness', '1 x 250 P/FP/G', 'nitric-acid/sulfuric-acid below 2', 'not', '180 d', COPY_2014],
  ['boron', '1 x 250 P/FP/Q', HNO3, 'not', '180 d', COPY_2014],
  ['colour', '1 x 250 P/FP/G', 'nothing', '6', '48 h', COPY_2014],
  ['specific-conductance-laboratory', '1 x 125 P/FP/G', 'nothing', '6', '28 d', COPY_1995],
  ['turbidity-laboratory', '1 x 125 P/FP/G', 'nothing', '6', '48 h', COPY_1995],
  ['phenols', '1 x 1000 G', H2SO4, '6', '28 d', COPY_1995],
  ['oil-and-grease', '1 x 1000 G', 'hydrochloric-acid/sulfuric-acid below 2', '6', '28 d', RECALLED],
  ['dissolved-gases', '3 x 40 G', HCL, '6', '14 d | not-preserved 7 d', RECALLED],
  ['perchlorate', '1 x 125 P/G', 'nothing', 'not', '28 d', RECALLED],
  ['perchlorate-low-level', '1 x 125 P', 'nothing', '6', '28 d', RECALLED],
  ['pfas-1633', '2 x 250-500 HDPE', 'nothing', '6', 'E 28 d + A 90 d | frozen E 90 d + A 90 d', RECALLED],
  ['pfas-537-1', '1 x 250 PP', 'trizma 5 g/L', '10 for 48 h, 6', 'E 14 d + A 28 d', RECALLED],
  ['pfas-533', '1 x 250 PP', 'ammonium-acetate 1 g/L', '10 for 48 h, 6', 'E 28 d + A 28 d', RECALLED],
  ['radionuclides', '1 x 1000-4000 P', HNO3, 'not', '180 d', RECALLED],
];

describe('a group of analytes', () => {
  it.each(ROWS)('%s: %s, %s, cooled to %s, %s, source %s', (id, bottles, preservation, cooling, holding, source) => {
    const one = group(id);
    expect([bottlesLine(one), preservationLine(one), coolingLine(one), holdingLine(one)]).toEqual([
      bottles,
      preservation,
      cooling,
      holding,
    ]);
    expect(one.holding[0]?.source).toMatch(source);
  });

  it('is among these rows, whichever it is', () => {
    expect(ANALYTE_GROUPS.map(({ id }) => id).toSorted()).toEqual(ROWS.map(([id]) => id).toSorted());
    expect(analyteGroup('constructor')).toBeUndefined();
  });

  it.each(ANALYTE_GROUPS.map((one) => [one.id, one] as const))(
    '%s: what is from memory says that it is not verified',
    (_id, one) => {
      const parts = [
        one.container,
        one.container.bottles,
        one.preservation,
        one.cooling,
        one.filtration,
        one.filling,
        one.shortWater,
        ...one.holding,
      ];
      for (const { source, verified, dated } of parts) {
        expect([source, verified]).toEqual([source, !/from memory|no source/.test(source)]);
        expect(dated).not.toBe('');
        expect(source).not.toMatch(/\/work|shared|\.md/);
      }
    },
  );

  it.each(ANALYTE_GROUPS.map((one) => [one.id, one] as const))(
    '%s: its first holding time is that of what it asks for, and ids differ',
    (_id, one) => {
      expect(one.holding[0]?.condition).toBe('as-prescribed');
      const ids = one.holding.map(({ id }) => id);
      expect(new Set(ids).size).toBe(ids.length);
      for (const { limits } of one.holding)
        for (const { minutes, written } of limits) {
          const [count, unit] = /(\d+) (min|h|d)$/.exec(written)?.slice(1) ?? [];
          expect(Number(count) * { min: 1, h: 60, d: 1_440 }[unit as 'min' | 'h' | 'd']).toBe(minutes);
        }
    },
  );

  it.each(ANALYTE_GROUPS.map((one) => [one.id, one] as const))(
    '%s: the least is no more than what is asked for',
    (_id, { container, shortWater }) => {
      expect(shortWater.leastCount).toBeLessThanOrEqual(container.bottles.count);
      expect(shortWater.leastVolumeMl).toBeLessThanOrEqual(container.bottles.volumeMl);
    },
  );

  it('is never filtered where it is volatile, and filtered before the acid where it is dissolved', () => {
    const filtered = (filter: string) =>
      ANALYTE_GROUPS.filter(({ filtration }) => filtration.filter === filter).map(({ id }) => id);
    expect(filtered('never')).toEqual([
      'volatiles',
      'volatiles-unpreserved',
      'acrolein-acrylonitrile',
      'dioxane-8260',
      'gasoline-range',
      'fumigants',
      'organic-carbon-total',
      'dissolved-gases',
    ]);
    expect(filtered('field-filter')).toEqual(['metals-dissolved', 'orthophosphate', 'organic-carbon-dissolved']);
    expect(filtered('sterile-filter')).toEqual(['perchlorate-low-level']);
  });

  it('has no air in vials, a third of air for perchlorate at low level, and fills vials at 100 mL/min and litres at 500', () => {
    for (const { container, filling } of ANALYTE_GROUPS) {
      if (container.kind === 'vial') expect([filling.headspace, filling.rate?.atMostMlPerMin]).toEqual(['none', 100]);
      else if (filling.headspace !== 'none')
        expect(filling.rate?.atMostMlPerMin).toBe(container.bottles.volumeMl >= 250 ? 500 : undefined);
    }
    expect(group('perchlorate-low-level').filling.headspace).toBe('leave-a-third');
    expect(group('alkalinity').filling.headspace).toBe('none');
  });

  it('of volatiles takes thiosulfate where water is chlorinated; PFAS by 1633 may be frozen, nothing else', () => {
    expect(group('volatiles').preservation.ifChlorinated).toEqual({ add: 'sodium-thiosulfate', percent: '0.008' });
    expect(ANALYTE_GROUPS.filter(({ cooling }) => cooling.mayFreeze).map(({ id }) => id)).toEqual(['pfas-1633']);
    expect(group('pfas-1633').holding[1]?.keptAtMostC).toBe('-20');
  });
});

describe('a bottle that serves several groups', () => {
  it.each(SHARED_BOTTLES.map((one) => [one.id, one] as const))(
    '%s: all are preserved alike and have a material in common',
    (_id, { groups }) => {
      const members = groups.map(group);
      expect(new Set(members.map(preservationLine)).size).toBe(1);
      const [first] = members;
      expect(
        first?.container.materials.some((material) =>
          members.every(({ container }) => container.materials.includes(material)),
        ),
      ).toBe(true);
    },
  );

  it('with nitrate in it has 48 h, the shortest', () => {
    const shared = SHARED_BOTTLES.find(({ id }) => id === 'nothing-added')?.groups ?? [];
    const shortest = Math.min(
      ...shared.flatMap((id) => group(id).holding[0]?.limits.map(({ minutes }) => minutes) ?? []),
    );
    expect(shortest).toBe(48 * 60);
  });
});
