import { describe, expect, it } from 'vitest';
import type { CriteriaSet, Tolerance } from '../../src/catalog/criteria-set.ts';
import { criteriaSet, criteriaSets, figuresOf, isVerified } from '../../src/catalog/criteria-sets.ts';
import { fromMemory, seen } from '../../src/catalog/figures.ts';
import { PARAMETER_NAMES, PARAMETERS, type Parameter } from '../../src/catalog/parameters.ts';
import { millionths } from '../../src/science/millionths.ts';

function tell(tolerance: Tolerance): string {
  if (tolerance.rule === 'low-value') return 'stable';
  if (tolerance.rule === 'greater-of') return tolerance.of.map(tell).join(' or ');
  return tolerance.rule === 'percent' ? `${tolerance.within.value} %` : tolerance.within.value;
}

/** A parameter of a set in one line: "below 0.5 stable, else 10 %". */
function line(set: CriteriaSet, parameter: Parameter): string | undefined {
  const branches = set.criteria.find((criterion) => criterion.parameter === parameter)?.branches;
  return branches
    ?.map(({ below, tolerance }) => `${below ? `below ${below.value} ` : ''}${tell(tolerance)}`)
    .join(', else ');
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
  ])('[A2] gives %s as published', (id, ...expected) => {
    const set = criteriaSet(id);
    if (!set) throw new Error(`no set ${id}`);
    const lines = PARAMETERS.map((parameter) => line(set, parameter));
    expect([...lines, set.readings.value, set.minimumIntervalMin.value]).toEqual(expected);
  });

  it('[A2] calls a set verified only where every figure of it was read in its document', () => {
    expect(criteriaSets.filter(isVerified).map(({ id }) => id)).toEqual(['paul-and-puls-2001']);
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
      expect(set.dated).toMatch(/^\d{4}(?:-\d\d){0,2}$/);
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

  it('knows no set by another name, and names every parameter with its unit', () => {
    expect(criteriaSet('epa-region-1')).toBeUndefined();
    expect(Object.keys(PARAMETER_NAMES)).toEqual([...PARAMETERS]);
  });
});
