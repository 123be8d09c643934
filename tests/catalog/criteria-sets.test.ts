import { describe, expect, it } from 'vitest';
import { criteriaNotUsable } from '../../src/catalog/criteria-not-usable.ts';
import type { CriteriaSet, Tolerance } from '../../src/catalog/criteria-set.ts';
import { criteriaSet, criteriaSets, figuresOf, isVerified } from '../../src/catalog/criteria-sets.ts';
import { fromMemory, seen } from '../../src/catalog/figures.ts';
import { PARAMETER_NAMES, PARAMETERS, type Parameter } from '../../src/catalog/parameters.ts';
import { millionths } from '../../src/science/millionths.ts';

function tell(tolerance: Tolerance): string {
  if (tolerance.rule === 'low-value') return 'stable';
  if (tolerance.rule === 'at-most') return `at most ${tolerance.limit.value}`;
  if (tolerance.rule === 'greater-of' || tolerance.rule === 'either') return tolerance.of.map(tell).join(' or ');
  const less = tolerance.lessThan ? 'less than ' : '';
  if (tolerance.rule === 'percent') return `${less}${tolerance.within.value} %`;
  return `${less}${tolerance.within.value}${tolerance.unit ? ` ${tolerance.unit}` : ''}`;
}

/** A parameter of a set in one line: "below 0.5 stable, else 10 %". */
function line(set: CriteriaSet, parameter: Parameter): string | undefined {
  const criterion = set.criteria.find((one) => one.parameter === parameter);
  if (criterion === undefined) return undefined;
  const told = criterion.branches
    .map(({ below, tolerance }) => `${below ? `below ${below.value} ` : ''}${tell(tolerance)}`)
    .join(', else ');
  const { optional, orInPercentSaturation, atMost } = criterion;
  const saturation = orInPercentSaturation ? ` or ${tell(orInPercentSaturation)} % saturation` : '';
  return `${optional ? 'optional ' : ''}${told}${saturation}${atMost ? ` and at most ${atMost.value}` : ''}`;
}

describe('the criteria sets of the catalog', () => {
  // Figures: US EPA Region 1 EQASOP-GW4 Rev. 4 (2017) and SOP GW 0001 Rev. 2 (1996), Puls & Barcelona 1996, Yeskis &
  // Zavala 2002, USGS NFM A4 v2.0 (2006), ASTM D6771-21: from memory. Paul & Puls 2001: seen in the abstract.
  it.each([
    [
      'epa-region-1-low-stress-rev-4',
      '3 %',
      '0.1',
      '3 %',
      'below 0.5 stable, else 10 %',
      '10',
      'below 5 stable, else 10 %',
      '3',
      '5',
    ],
    ['epa-region-1-low-stress-rev-2', '3 %', '0.1', '3 %', '10 %', '10', 'below 1 stable, else 10 %', '3', '3'],
    ['puls-and-barcelona-1996', undefined, '0.1', '3 %', '10 %', '10', '10 %', '3', '3'],
    ['paul-and-puls-2001', undefined, '0.05', '3 %', '10 %', '5', '10 %', '3', '3'],
    ['yeskis-and-zavala-2002', undefined, '0.1', '3 %', '0.3', '10', 'below 10 stable, else 10 %', '3', '3'],
    [
      'usgs-field-manual-a4-2006',
      '0.2',
      '0.1',
      'below 100 5 %, else 3 %',
      '0.3',
      undefined,
      'below 100 10 %',
      '5',
      '3',
    ],
    ['astm-d6771-21', '0.2', '0.2', '3 %', '10 % or 0.2', '20', undefined, '3', '3'],
    // SESDPROC-301-R3 (2013), New Jersey DEP Dec 2003, FS 2200 Jan 2017, Ohio chapter 10: from memory
    [
      'epa-region-4-low-flow-2013',
      undefined,
      '0.1',
      '5 %',
      'optional 0.2 or 10 % saturation',
      undefined,
      'at most 10 or 10 %',
      '3',
      undefined,
    ],
    [
      'epa-region-4-well-volumes-2013',
      undefined,
      '0.1',
      '5 %',
      'optional 0.2 or 10 % saturation',
      undefined,
      'at most 10 or 10 %',
      '3',
      undefined,
    ],
    ['new-jersey-low-flow-2003', '3 %', '0.1', '3 %', '10 %', '10', 'below 1 stable, else 10 %', '3', '5'],
    [
      'florida-fs-2200-2017',
      '0.2',
      '0.2',
      '5.0 %',
      '10 % or 0.2 or at most 20 % saturation',
      undefined,
      'at most 20 or 10 % or 5',
      '3',
      '2',
    ],
    ['ohio-chapter-10-2012', '0.5', '0.2', '3 %', '10 % or 0.2', '20', 'at most 10 or 10 %', '3', '3'],
    // The rest was seen: UFGS 02521, air-base SOP B1.4 (2010), a state solid-waste rule, Colorado state file doc 641310,
    // California county files docs 600417 and 276400
    ['ufgs-02521-well-development', '0.5', 'less than 0.2', '3 %', '10 %', 'less than 10', '10 %', '3', undefined],
    [
      'air-base-well-development-2010',
      '10 %',
      'less than 0.2',
      '10 %',
      undefined,
      undefined,
      '10 % and at most 100',
      '4',
      undefined,
    ],
    ['state-solid-waste-rule', undefined, '0.1', '10 %', '10 %', undefined, '10 %', '3', undefined],
    ['colorado-mine-permit-protocol', '1', '0.1', '10 %', undefined, undefined, undefined, '2', undefined],
    ['county-casing-volume-protocol', '1.0 °F', '0.1', '10 %', undefined, undefined, undefined, '2', undefined],
    ['puls-and-paul-1995', undefined, '0.05', '3 %', undefined, undefined, undefined, '3', '3'],
  ])('[A2] gives %s as published', (id, ...expected) => {
    const set = criteriaSet(id);
    if (!set) throw new Error(`no set ${id}`);
    const lines = PARAMETERS.map((parameter) => line(set, parameter));
    expect([...lines, set.readings.value, set.minimumIntervalMin?.value]).toEqual(expected);
  });

  it('[A2] calls a set verified only where every figure of it was read in its document', () => {
    expect(criteriaSets.filter(isVerified).map(({ id }) => id)).toEqual([
      'paul-and-puls-2001',
      'ufgs-02521-well-development',
      'air-base-well-development-2010',
      'state-solid-waste-rule',
      'colorado-mine-permit-protocol',
      'county-casing-volume-protocol',
      'puls-and-paul-1995',
    ]);
    expect(
      isVerified({ ...(criteriaSet('paul-and-puls-2001') as CriteriaSet), readings: fromMemory('3', 'low') }),
    ).toBe(false);
  });

  it('[A2] marks figure by figure what is recalled: of Region 1 Rev. 2 only the drawdown target was read', () => {
    const set = criteriaSet('epa-region-1-low-stress-rev-2') as CriteriaSet;
    const read = figuresOf(set).filter((figure) => figure.verified);
    expect(read).toEqual([seen('0.3', expect.stringContaining('p. 6 of 13'))]);
    expect(
      figuresOf(set)
        .filter((figure) => !figure.verified)
        .every(({ status }) => status.startsWith('from memory')),
    ).toBe(true);
  });

  it('[A2] says where a figure is ours: the document of Region 4 gives none for a stable turbidity', () => {
    const ours = criteriaSets.flatMap(figuresOf).filter(({ status }) => status === 'common practice, no source');
    expect(new Set(ours.map(({ value, verified }) => `${value} ${verified}`))).toEqual(new Set(['10 false']));
  });

  it('[A2] keeps editions apart: turbidity is low below 1 NTU in 1996 and below 5 NTU in 2017', () => {
    const low = (id: string) =>
      criteriaSet(id)?.criteria.find(({ parameter }) => parameter === 'turbidity')?.branches[0];
    expect(low('epa-region-1-low-stress-rev-2')?.below?.value).toBe('1');
    expect(low('epa-region-1-low-stress-rev-4')?.below?.value).toBe('5');
  });

  it('names document, edition, date and source of every set, under an id of its own', () => {
    expect(new Set(criteriaSets.map(({ id }) => id)).size).toBe(criteriaSets.length);
    for (const set of criteriaSets) {
      expect(set.id).toMatch(/^[a-z0-9]+(?:-[a-z0-9]+)*$/);
      for (const text of [set.issuer, set.document, set.edition, set.source]) expect(text.length).toBeGreaterThan(3);
      expect(set.dated).toMatch(/^(?:\d{4}(?:-\d\d){0,2}|not known)$/);
      expect(set.percentArithmetic.why.length).toBeGreaterThan(20);
      expect(set.absoluteArithmetic.why.length).toBeGreaterThan(20);
    }
  });

  it('has readable figures, parameters in one order, and no threshold whose equality nobody decided', () => {
    for (const set of criteriaSets) {
      for (const { value } of figuresOf(set)) expect(millionths(value)).toBeGreaterThan(0);
      const places = set.criteria.map(({ parameter }) => PARAMETERS.indexOf(parameter));
      expect(places).toEqual(places.toSorted((a, b) => a - b));
      for (const branch of set.criteria.flatMap(({ branches }) => branches)) {
        expect(branch.below === undefined).toBe(branch.atThreshold === undefined);
      }
      expect(Number(set.readings.value)).toBeLessThanOrEqual(8);
    }
  });

  // What is drawn and when the crew chooses: FS 2200, SESDPROC-301-R3 from memory; the rest seen.
  it('[A2] gives the volumes and limits as published', () => {
    const volume = (rule: CriteriaSet['beforeFirstReading']): string | undefined => {
      if (rule === undefined) return undefined;
      if ('times' in rule) return `${rule.times.value} ${rule.of}`;
      const { insideSubmergedScreen: inside, elsewhere } = rule;
      return [inside, elsewhere].map((one) => (one ? volume(one) : 'nothing')).join(', elsewhere ');
    };
    const told = criteriaSets
      .filter((set) => set.beforeFirstReading || set.betweenReadings || set.limits)
      .map((set) => [
        set.id,
        volume(set.beforeFirstReading),
        volume(set.betweenReadings),
        set.limits?.map(({ of, at }) => `${at.value} ${of}`).join(),
      ]);
    expect(told).toEqual([
      ['epa-region-1-low-stress-rev-4', undefined, undefined, '120 minutes'],
      ['epa-region-4-low-flow-2013', '1 pump-and-tubing-volume', undefined, undefined],
      ['epa-region-4-well-volumes-2013', '1 well-volume', '1 well-volume', '5 well-volumes'],
      [
        'florida-fs-2200-2017',
        '1 equipment-volume, elsewhere 1 well-volume',
        'nothing, elsewhere 0.25 well-volume',
        undefined,
      ],
      ['ufgs-02521-well-development', undefined, '1 casing-volume', undefined],
      ['air-base-well-development-2010', undefined, '1 well-volume', '240 minutes'],
      ['colorado-mine-permit-protocol', '3 casing-volume', undefined, '5 well-volumes'],
      ['county-casing-volume-protocol', undefined, '1 casing-volume', undefined],
    ]);
    expect(criteriaSets.filter(({ steadyLevel }) => steadyLevel).map(({ id }) => id)).toEqual([
      'state-solid-waste-rule',
    ]);
  });

  it('lists the documents whose figures were not recovered, each with its reason, and has no set of them', () => {
    expect(criteriaNotUsable.length).toBeGreaterThan(5);
    for (const { document, source, because } of criteriaNotUsable) {
      expect(because.length).toBeGreaterThan(20);
      expect(source.length).toBeGreaterThan(3);
      expect(criteriaSets.map((set) => set.document)).not.toContain(document);
    }
  });

  it('knows no set by another name, and names every parameter with its unit', () => {
    expect(criteriaSet('epa-region-1')).toBeUndefined();
    expect(Object.keys(PARAMETER_NAMES)).toEqual([...PARAMETERS]);
  });
});
