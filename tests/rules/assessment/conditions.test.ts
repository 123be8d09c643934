import { describe, expect, it } from 'vitest';
import type { ReadingRecord } from '../../../src/rules/assessment/assessment-input.ts';
import { assess, every5Min, level, occurrence, setUp, well } from './purge-fixture.ts';

type Level = ReturnType<typeof level>;

function withLevels(...depths: readonly (string | undefined)[]): ReadingRecord[] {
  return every5Min(depths.map((depth) => (depth === undefined ? {} : { depthToWaterFt: depth })));
}

function drawdown(readings: readonly ReadingRecord[], levels: readonly Level[], criteria?: string) {
  return assess({ readings, levels, ...(criteria ? { criteria } : {}) }).conditions.drawdown;
}

const gauged = [level({ time: '09:50' }, 'before-purge', '22.10')];

describe('drawdown', () => {
  // Target 0.3 ft: US EPA Region 1, SOP GW 0001, Rev. 2, 1996, p. 6 of 13.
  it.each([
    ['22.38', '22.40', '22.40', 'within', '0.30'],
    ['22.40', '22.40', '22.41', 'beyond-but-steady', '0.31'],
    ['22.20', '22.25', '22.30', 'not-steady', '0.20'],
    ['22.25', '22.30', '22.30', 'within', '0.20'],
  ])('[A19] pumping levels of %s, %s, %s ft are %s, %s ft below the static one', (a, b, c, status, expected) => {
    const condition = drawdown(withLevels(a, b, c), gauged);
    expect(condition).toMatchObject({ status, drawdownFt: expected, staticFt: '22.10', limit: '0.3', limitUnit: 'ft' });
  });

  // Goal of 0.1 m = 0.328 ft: Puls & Barcelona 1996, from memory.
  it.each([
    ['22.428', 'within'],
    ['22.429', 'beyond-but-steady'],
  ])('[A19] keeps a limit in metres in metres: %s ft is %s 0.1 m', (depth, status) => {
    const condition = drawdown(withLevels(depth, depth, depth), gauged, 'puls-and-barcelona-1996');
    expect(condition).toMatchObject({ status, limit: '0.1', limitUnit: 'm' });
  });

  it('[A19] takes the limit of the plan before that of the set', () => {
    const purge = { readings: withLevels('22.60', '22.60', '22.60'), levels: gauged };
    const limitOf = (plan: { limitFt?: string; limitM?: string }) =>
      assess({ ...purge, plan: { drawdown: plan } }).conditions.drawdown;
    expect(limitOf({ limitFt: '0.5' })).toMatchObject({ status: 'within', limit: '0.5', limitUnit: 'ft' });
    expect(limitOf({ limitM: '0.15' })).toMatchObject({ status: 'beyond-but-steady', limit: '0.15', limitUnit: 'm' });
  });

  it('[A19] is steady or not where no set gives a limit', () => {
    const criteria = 'paul-and-puls-2001';
    expect(drawdown(withLevels('23', '23.02', '23.01'), gauged, criteria)).toMatchObject({ status: 'steady' });
    expect(drawdown(withLevels('23'), gauged, criteria)).toMatchObject({ status: 'not-known', pumpingFt: '23' });
    expect(drawdown(withLevels('23'), gauged, criteria)).not.toHaveProperty('limit');
  });

  it('[A19] counts from the level measured last before the purge, then from the synoptic one', () => {
    const readings = withLevels('22.30', '22.30', '22.30');
    const synoptic = level({ time: '08:00' }, 'synoptic', '22.00');
    const again = level({ time: '09:57' }, 'before-purge', '22.05');
    const dry = level({ time: '09:58' }, 'before-purge', '22.05', {
      state: 'dry',
      depthToWaterFt: undefined,
    } as object);
    expect(drawdown(readings, [synoptic])).toMatchObject({ staticFt: '22.00' });
    expect(drawdown(readings, [synoptic, ...gauged])).toMatchObject({ staticFt: '22.10' });
    expect(drawdown(readings, [synoptic, again, ...gauged, dry])).toMatchObject({ staticFt: '22.05' });
    expect(drawdown(readings, [level({ time: '18:00' }, 'before-purge', '22.07')])).toMatchObject({
      staticFt: '22.07',
    });
  });

  it('[A19] takes pumping levels that were measured on their own, and those up to the reading only', () => {
    const levels = [
      ...gauged,
      level({ time: '10:01' }, 'pumping', '22.30'),
      level({ time: '10:09' }, 'pumping', '22.34'),
      level({ time: '10:15' }, 'pumping', '29.00'),
      level({ time: '10:16' }, 'recovery', '22.11'),
    ];
    expect(drawdown(every5Min([{}, {}, {}]), levels)).toMatchObject({ pumpingFt: '22.34', spreadFt: '0.04' });
  });

  it('[A19] looks at the levels of the window, not at those of the start, when the rate was still being found', () => {
    const readings = withLevels('23.10', '22.38', '22.39', '22.39');
    expect(drawdown(readings, gauged)).toMatchObject({ status: 'within', spreadFt: '0.01' });
  });

  it('[A19] is not known without a static or a pumping level', () => {
    expect(drawdown(every5Min([{}, {}, {}]), gauged)).toMatchObject({ status: 'not-known' });
    const unknown = drawdown(withLevels('22.3', undefined, undefined), []);
    expect(unknown).toMatchObject({ status: 'not-known', pumpingFt: '22.3' });
    expect(unknown).not.toHaveProperty('drawdownFt');
    expect(drawdown(withLevels('22.60', undefined, undefined), gauged)).toMatchObject({ status: 'not-known' });
    expect(drawdown([], gauged)).toMatchObject({ status: 'not-known' });
  });
});

describe('minimum purge', () => {
  const setUps = [setUp({ time: '09:55' }, { tubingInsideDiameterIn: '0.25', tubingLengthFt: '60' })];
  const casing = well({ casingInsideDiameterIn: '2.00' });
  const purge = (rows: Parameters<typeof every5Min>[0], more: object = {}) =>
    assess({ readings: every5Min(rows), levels: gauged, setUps, well: casing, ...more }).conditions.minimumPurge;

  // Computed: 0.154 L of drawdown and 0.579 L of tubing (US EPA Region 1, SOP GW 0001, Rev. 2, 1996, p. 6 of 13).
  it('[A20] must be more than the drawdown and tubing volume: 0.154 + 0.579 = 0.734 L', () => {
    const at = (purgedMl: string) => purge([{}, {}, { depthToWaterFt: '22.35', purgedMl }]);
    expect(at('733.7')).toMatchObject({ status: 'met', drawdownMl: '154.4', tubingMl: '579.2', requiredMl: '733.6' });
    expect(at('733.6')).toMatchObject({ status: 'not-met', purgedMl: '733.6' });
  });

  it('[A20] adds up the flow where nobody read a volume, and leaves out what it does not know', () => {
    const rows = [{ flowMlPerMin: '100' }, { flowMlPerMin: '100' }, { flowMlPerMin: '110', depthToWaterFt: '22.35' }];
    expect(purge(rows)).toMatchObject({ status: 'met', purgedMl: '1050.0' });
    const begun = [{ flowMlPerMin: '100', purgedMl: '400' }, { flowMlPerMin: '100' }, { depthToWaterFt: '22.35' }];
    expect(purge(begun)).toMatchObject({ purgedMl: '1400.0' });
    const late = [{}, { flowMlPerMin: '100' }, { flowMlPerMin: '100', depthToWaterFt: '22.35' }];
    expect(purge(late)).toMatchObject({ purgedMl: '1000.0' });
  });

  it('[A20] takes nothing as pumped between readings around a standstill', () => {
    const rows = [{ flowMlPerMin: '100' }, { flowMlPerMin: '100' }, { flowMlPerMin: '100', depthToWaterFt: '22.35' }];
    const occurrences = [
      occurrence({ time: '10:07' }, 'pump-stopped'),
      occurrence({ time: '10:08' }, 'pump-restarted'),
    ];
    expect(purge(rows, { occurrences })).toMatchObject({ status: 'not-met', purgedMl: '500.0' });
  });

  // Region 1, Rev. 3 and 4, from memory: beyond 0.3 ft the volume is drawn after the level steadied.
  it('[A20] counts from where the level steadied when it steadied beyond the limit', () => {
    const rows = [
      { depthToWaterFt: '22.90', purgedMl: '1000' },
      { depthToWaterFt: '23.10', purgedMl: '2000' },
      { depthToWaterFt: '23.11', purgedMl: '2600' },
      { depthToWaterFt: '23.12', purgedMl: '3150' },
    ];
    const early = purge(rows);
    expect(early).toMatchObject({ status: 'not-met', purgedMl: '1150.0', requiredMl: '1209.3' });
    expect(early.because).toContain('since the level steadied beyond its limit');
    const later = [...gauged, level({ time: '10:17' }, 'pumping', '29.00')];
    expect(purge(rows, { levels: later })).toEqual(early);
    expect(purge([...rows, { depthToWaterFt: '23.12', purgedMl: '3400' }])).toMatchObject({
      status: 'met',
      purgedMl: '1400.0',
    });
  });

  it('[A20] counts from nothing where the level steadied before anybody knew what was drawn', () => {
    const rows = [
      { depthToWaterFt: '23.10' },
      { depthToWaterFt: '23.11' },
      { depthToWaterFt: '23.12', purgedMl: '900' },
    ];
    expect(purge(rows)).toMatchObject({ status: 'not-met', purgedMl: '900.0', requiredMl: '1209.3' });
  });

  it.each([
    ['the well', { well: null }, 'inside diameter of the casing'],
    ['the set-up', { setUps: [] }, 'inside diameter of the tubing, length of the tubing'],
    ['the level', { levels: [] }, 'drawdown'],
  ])('[A20] says what it needs where %s is not recorded', (_, more, needed) => {
    const condition = purge([{}, {}, { depthToWaterFt: '22.35', purgedMl: '900' }], more);
    expect(condition.status).toBe('not-known');
    expect(condition.because).toContain(needed);
    expect(condition).not.toHaveProperty('requiredMl');
  });

  it('[A20] says so where neither a volume nor a flow was read, or a diameter is none', () => {
    expect(purge([{}, {}, { depthToWaterFt: '22.35' }]).because).toContain('volume purged, or the flow');
    const zero = { well: well({ casingInsideDiameterIn: '0' }) };
    expect(purge([{}, {}, { depthToWaterFt: '22.35', purgedMl: '9' }], zero).because).toContain('holds nothing');
  });

  it('[A20] is no condition of sets that give none', () => {
    const condition = purge([{}, {}, {}], { criteria: 'puls-and-barcelona-1996' });
    expect(condition).toEqual({
      status: 'not-a-condition',
      required: false,
      because: 'These criteria set no minimum purge.',
    });
    const strict = { criteria: 'puls-and-barcelona-1996', plan: { minimumPurge: 'required' as const } };
    expect(assess({ readings: every5Min([{}, {}, {}]), ...strict }).stable).toBe(true);
  });
});
