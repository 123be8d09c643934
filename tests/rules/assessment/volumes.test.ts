import { describe, expect, it } from 'vitest';
import type { StabilizationPlan } from '../../../src/protocol/event-plan.ts';
import type { ReadingRecord, WellRecord } from '../../../src/rules/assessment/assessment-input.ts';
import { assess, every5Min, later, level, occurrence, reading, STEADY, setUp, well } from './purge-fixture.ts';

type Fields = ReadingRecord['fields'];

/** Ten feet of water in a casing of 2.00 in hold 6177.8 mL (0.0408 x 4 x 10 = 1.632 gal). */
const TEN_FEET: Partial<WellRecord['fields']> = {
  casingInsideDiameterIn: '2.00',
  totalDepthFt: '32.10',
  screenTopFt: '24',
  screenBottomFt: '32',
};
const gauged = [level({ time: '09:50' }, 'before-purge', '22.10')];
const line = { intakeDepthFt: '28', tubingInsideDiameterIn: '0.25', tubingLengthFt: '60', flowCellVolumeMl: '250' };

interface Given {
  readonly criteria: string;
  /** Drawn up to each reading. */
  readonly drawn: readonly (string | undefined)[];
  readonly everyS?: number;
  readonly plan?: StabilizationPlan;
  readonly well?: Partial<WellRecord['fields']> | null;
  readonly setUp?: object;
  readonly levels?: typeof gauged;
  readonly fields?: Partial<Fields>;
}

function purge(given: Given) {
  const { criteria, drawn, plan = {}, everyS = 300, fields = {} } = given;
  const readings = drawn.map((purgedMl, index) =>
    reading({ time: later(index * everyS) }, { ...STEADY, ...fields, ...(purgedMl === undefined ? {} : { purgedMl }) }),
  );
  return assess({
    criteria,
    readings,
    plan,
    levels: given.levels ?? gauged,
    setUps: [setUp({ time: '09:55' }, given.setUp ?? line)],
    well: given.well === null ? null : well(given.well ?? TEN_FEET),
  });
}

const UFGS = 'ufgs-02521-well-development';
const REGION_4 = 'epa-region-4-well-volumes-2013';
const MINE = 'colorado-mine-permit-protocol';
const FLORIDA = 'florida-fs-2200-2017';

describe('a volume between readings', () => {
  // UFGS 02521 (seen): one casing volume between readings. 5 % of grace: 5868.9 mL.
  it('[A21] spaces the readings of a window, whatever lies in between', () => {
    const enough = purge({ criteria: UFGS, drawn: ['0', '5869', '11738'] });
    expect(enough.stable).toBe(true);
    expect(enough.conditions.volumes).toEqual({
      status: 'met',
      betweenMl: '5868.9',
      purgedMl: '11738.0',
      because: '5868.9 mL between two readings must be drawn; 11.7 L were.',
    });
    const short = purge({ criteria: UFGS, drawn: ['0', '5868', '11736'] });
    expect(short.window).toHaveLength(2);
    expect(short.conditions.volumes).toMatchObject({ status: 'not-met' });
    expect(short.missing[0]).toBe('2 of 3 readings at least 3 min apart, with 5868.9 mL drawn between them.');
    const between = purge({ criteria: UFGS, drawn: ['0', '3000', '6000', '9000', '12000'] });
    expect([between.stable, between.window.length]).toEqual([true, 3]);
  });

  it('[A21] takes the grace of the plan', () => {
    const strict = purge({ criteria: UFGS, drawn: ['0', '6170', '12340'], plan: { volumeGracePercent: '0' } });
    expect([strict.stable, strict.conditions.volumes?.betweenMl]).toEqual([false, '6177.8']);
    expect(purge({ criteria: UFGS, drawn: ['0', '6170', '12340'] }).stable).toBe(true);
  });

  it('[A21] asks for the interval in time as well: 3 min where the set gives none', () => {
    const fast = purge({ criteria: UFGS, drawn: ['0', '7000', '14000'], everyS: 149 });
    expect(fast.stable).toBe(false);
    expect(fast.conditions.interval.criteriaS).toBe(180);
    expect(purge({ criteria: UFGS, drawn: ['0', '7000', '14000'], everyS: 150 }).stable).toBe(true);
  });

  it('[A21] takes the place of the longest gap: a casing volume may take an hour', () => {
    expect(purge({ criteria: UFGS, drawn: ['0', '7000', '14000'], everyS: 3_600 }).stable).toBe(true);
    expect(purge({ criteria: 'puls-and-paul-1995', drawn: ['0', '7000', '14000'], everyS: 3_600 }).stable).toBe(false);
  });

  it('[A21] passes over a reading up to which nobody knows what was drawn', () => {
    const result = purge({ criteria: UFGS, drawn: [undefined, '7000', '14000', '21000'] });
    expect([result.stable, result.window.length]).toEqual([true, 3]);
    expect(purge({ criteria: UFGS, drawn: [undefined, '7000', '14000'] }).stable).toBe(false);
  });

  it('[A21] is added up from the flow where nobody read a volume', () => {
    const fields = { flowMlPerMin: '1200' };
    const result = purge({ criteria: UFGS, drawn: [undefined, undefined, undefined], fields });
    expect([result.stable, result.conditions.volumes?.purgedMl]).toEqual([true, '12000.0']);
  });

  it('[A21] counts anew after an interruption like any window', () => {
    const readings = ['0', '7000', '14000', '21000', '28000'].map((purgedMl, index) =>
      reading({ time: later(index * 300) }, { ...STEADY, purgedMl }),
    );
    const given = { criteria: UFGS, levels: gauged, well: well(TEN_FEET) };
    const occurrences = [occurrence({ time: '10:11' }, 'intake-moved')];
    expect(assess({ ...given, readings, occurrences }).stable).toBe(false);
    expect(assess({ ...given, readings }).stable).toBe(true);
  });
});

describe('a volume before the first reading that counts', () => {
  // Colorado state file, doc 641310 (seen): after about three casing volumes, 18 533 mL; 5 % of grace: 17 606.7 mL.
  it('[A21] leaves out the readings before it', () => {
    expect(purge({ criteria: MINE, drawn: ['12000', '17607', '18000'] })).toMatchObject({ stable: true });
    const early = purge({ criteria: MINE, drawn: ['12000', '17606', '18000'] });
    expect([early.stable, early.window.length]).toEqual([false, 1]);
    const none = purge({ criteria: MINE, drawn: ['12000', '13000', '14000'] });
    expect([none.stable, none.window.length]).toEqual([false, 0]);
    expect(none.conditions.volumes).toMatchObject({ status: 'not-met', beforeFirstMl: '17606.7' });
    expect(none.missing[0]).toContain('0 of 2 readings at least 3 min apart, after the first 17.6 L');
  });

  it('[A21] holds back what was stable before it', () => {
    const result = purge({ criteria: MINE, drawn: ['12000', '13000', '17700', '18800'] });
    expect(result.firstHeldAt).toBe(later(900));
  });

  // SESDPROC-301-R3, from memory: one well volume, then one between readings: stable at three at the earliest.
  it('[A21] makes three readings three well volumes by Region 4', () => {
    const result = purge({ criteria: REGION_4, drawn: ['6000', '12000', '18000'] });
    expect(result.stable).toBe(true);
    expect(result.conditions.volumes).toMatchObject({ beforeFirstMl: '5868.9', betweenMl: '5868.9' });
    expect(purge({ criteria: REGION_4, drawn: ['5000', '11000', '17000'] }).stable).toBe(false);
  });

  // SESDPROC-301-R3, from memory: pump and tubing; 150 + 579.2 mL of 60 ft of 0.25 in (computed), less 5 %.
  it('[A21] is that of pump and tubing for low flow by Region 4', () => {
    const low = (plan: StabilizationPlan) =>
      purge({ criteria: 'epa-region-4-low-flow-2013', drawn: ['0', '692', '693', '1400', '2100'], plan });
    expect(low({ pumpVolumeMl: '150' }).conditions.volumes).toMatchObject({ beforeFirstMl: '692.7' });
    expect(low({ pumpVolumeMl: '150' }).firstHeldAt).toBe(later(1_200));
    expect(low({ whenUnknown: 'reported' }).firstHeldAt).toBe(later(600));
    const unknown = low({});
    expect(unknown.firstHeldAt).toBeUndefined();
    expect(unknown.conditions.volumes).toEqual({
      status: 'not-known',
      purgedMl: '2100.0',
      because: 'Not computed; it needs: volume of the pump, in the plan.',
    });
  });

  // FS 2200, from memory: the equipment volume where the intake is inside a screen under water: 150 + 579.2 + 250 mL.
  it.each([
    ['inside the screen', '28', '22.10', '930.2', undefined],
    ['at the top of the screen', '24', '24.00', '930.2', undefined],
    ['above the screen', '23.9', '22.10', '5868.9', '1467.2'],
    ['below the screen', '32.1', '22.10', '5868.9', '1467.2'],
    ['inside a screen that the water stands in', '28', '24.10', '4695.1', '1173.8'],
  ])('[A21] depends on the intake in Florida: %s', (_, intakeDepthFt, staticFt, beforeFirstMl, betweenMl) => {
    const { volumes } = purge({
      criteria: FLORIDA,
      drawn: ['0', '7000', '14000'],
      plan: { pumpVolumeMl: '150' },
      levels: [level({ time: '09:50' }, 'before-purge', staticFt)],
      setUp: { ...line, intakeDepthFt },
    }).conditions;
    expect(volumes).toMatchObject({ beforeFirstMl, ...(betweenMl ? { betweenMl } : {}) });
    expect(volumes?.betweenMl).toBe(betweenMl);
  });

  it('[A21] of a depth below ground takes the stick-up', () => {
    const ground = { ...TEN_FEET, depthsFrom: 'ground' as const, totalDepthFt: '30.00' };
    const of = (fields: Partial<WellRecord['fields']>) =>
      purge({ criteria: UFGS, drawn: ['0', '7000', '14000'], well: fields }).conditions.volumes;
    expect(of({ ...ground, stickUpFt: '2.10' })).toMatchObject({ betweenMl: '5868.9' });
    expect(of(ground)).toMatchObject({ status: 'not-known' });
  });
});

describe('volumes that are not known', () => {
  it.each([
    ['no well', { well: null }, 'inside diameter of the casing, depth of the well below its measuring point'],
    ['no static level', { levels: [] }, 'depth of the well below its measuring point, and the static level above it'],
    ['a level below the bottom', { levels: [level({ time: '09:50' }, 'before-purge', '40')] }, 'the static level'],
    ['no diameter', { well: { ...TEN_FEET, casingInsideDiameterIn: '0' } }, 'holds nothing'],
  ])(
    '[A21] with %s the well is not stable unless the plan lets that pass, and what is missing is said',
    (_, more, needs) => {
      const asked = { criteria: UFGS, drawn: ['0', '10', '20'], ...more };
      const result = purge({ ...asked, plan: { whenUnknown: 'reported' } });
      expect(result.stable).toBe(true);
      expect(result.conditions.volumes).toMatchObject({ status: 'not-known' });
      expect(result.conditions.volumes?.because).toContain(needs);
      expect(result.decisions).toContainEqual(
        expect.objectContaining({
          option: 'whenUnknown',
          choice: 'reported',
          why: 'What must be drawn cannot be checked.',
        }),
      );
      const strict = purge(asked);
      expect(strict.stable).toBe(false);
      expect(strict.missing[0]).toContain('Volumes: what must be drawn cannot be checked.');
    },
  );

  it('[A21] where neither a volume nor a flow was read', () => {
    const result = purge({ criteria: UFGS, drawn: [undefined, undefined, undefined] });
    expect([result.stable, result.conditions.volumes?.status]).toEqual([false, 'not-known']);
    expect(result.missing[0]).toContain('Record the volume purged or the flow');
    expect(result.conditions.volumes?.because).toContain('Record the volume purged or the flow');
    const two = purge({ criteria: UFGS, drawn: [undefined, undefined] });
    expect(two.missing[0]).toBe('2 of 3 readings at least 3 min apart.');
  });

  it.each([
    ['the intake', { setUp: { ...line, intakeDepthFt: undefined } }],
    ['the screen', { well: { casingInsideDiameterIn: '2.00', totalDepthFt: '32.10' } }],
  ])('[A21] where nobody recorded %s, Florida cannot be told', (_, more) => {
    const result = purge({ criteria: FLORIDA, drawn: ['0', '7000', '14000'], plan: { pumpVolumeMl: '150' }, ...more });
    expect(result.conditions.volumes?.because).toContain('to tell where it hangs');
  });

  it('[A21] says all that the equipment volume needs', () => {
    const none = purge({ criteria: FLORIDA, drawn: ['0', '7000', '14000'], setUp: { intakeDepthFt: '28' } });
    expect(none.conditions.volumes?.because).toBe(
      'Not computed; it needs: volume of the pump, in the plan, inside diameter of the tubing, length of the tubing, volume of the flow cell.',
    );
    const zero = { criteria: FLORIDA, drawn: ['0', '7000', '14000'], setUp: { ...line, tubingInsideDiameterIn: '0' } };
    expect(purge({ ...zero, plan: { pumpVolumeMl: '0' } }).conditions.volumes?.because).toContain('holds nothing');
  });
});

describe('the volumes of a plan', () => {
  const region1 = { criteria: 'epa-region-1-low-stress-rev-4' };

  it('[A21] come before those of the set, and are asked for where the set has none', () => {
    const plan: StabilizationPlan = {
      beforeFirstReading: { amount: '1', of: 'well-volume' },
      betweenReadings: { amount: '0.25', of: 'casing-volume' },
      // the flow cell has no volume on record, which this set asks about
      whenUnknown: 'reported',
    };
    const asked = purge({ ...region1, drawn: ['6000', '7500', '9000'], plan });
    expect(asked.stable).toBe(true);
    expect(asked.conditions.volumes).toMatchObject({ beforeFirstMl: '5868.9', betweenMl: '1467.2' });
    expect(purge({ ...region1, drawn: ['6000', '7400', '9000'], plan }).stable).toBe(false);
    expect(purge({ ...region1, drawn: ['0', '1', '2'] }).conditions).not.toHaveProperty('volumes');
  });

  it('[A21] of none take away that of the set', () => {
    const plan: StabilizationPlan = { betweenReadings: { amount: '0', of: 'casing-volume' } };
    const result = purge({ criteria: UFGS, drawn: ['0', '1', '2'], plan });
    expect(result.stable).toBe(true);
    expect(result.conditions).not.toHaveProperty('volumes');
  });
});

describe('a level that the set wants steady', () => {
  it('[A19] keeps the well from being stable where no level was read at all', () => {
    const readings = every5Min([STEADY, STEADY, STEADY]);
    const result = assess({ criteria: 'state-solid-waste-rule', readings });
    expect([result.stable, result.missing]).toEqual([
      false,
      ['Drawdown: two pumping levels in the window are needed to see that it is steady.'],
    ]);
    expect(assess({ criteria: 'state-solid-waste-rule', readings, plan: { whenUnknown: 'reported' } }).stable).toBe(
      true,
    );
  });
});
