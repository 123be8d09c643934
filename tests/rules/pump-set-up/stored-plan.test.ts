import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UNIT_TYPES } from '../../../src/protocol/kinds/unit.ts';
import { type RecordsForPlan, storedPlan, storedPlanOutput } from '../../../src/rules/pump-set-up/stored-plan.ts';
import { storedPlanInput } from '../../../src/rules/pump-set-up/stored-plan-input.ts';
import { driveOf, type RecordedUnit, unitsAtHand } from '../../../src/rules/pump-set-up/units-of-records.ts';
import { pumpSetUpPlan } from '../../../src/rules/questions/pump-set-up-plan.ts';

const id = (last: number) => `00000000-0000-7000-8000-0000000000${String(last).padStart(2, '0')}`;

function unit(last: number, fields: Partial<RecordedUnit['fields']>): RecordedUnit {
  return { id: id(last), fields: { type: 'other', label: `U-${last}`, use: 'shared', ownership: 'owned', ...fields } };
}

const bladderPump = unit(1, {
  type: 'bladder-pump',
  label: 'P-1',
  outsideDiameterIn: '1.66',
  maximumDepthFt: '200',
  maximumPressurePsi: '120',
  insideVolumeMl: '150',
  wettedParts: [
    { part: 'body', material: 'stainless steel' },
    { part: 'check ball', material: 'stainless steel' },
    { part: 'Bladder', material: 'PTFE' },
  ],
});
const tubing = unit(2, { type: 'tubing', label: 'T-1', maximumPressurePsi: '100' });
const fitting = unit(3, { type: 'fitting', label: 'F-1', maximumPressurePsi: '150' });
const regulator = unit(4, { type: 'regulator', label: 'R-1', maximumPressurePsi: '125' });
const cell = unit(5, { type: 'flow-cell', label: 'C-1', flowCellVolumeMl: '250', insideVolumeMl: '999' });
const units = [bladderPump, tubing, fitting, regulator, cell];

const records: RecordsForPlan = {
  well: {
    id: id(10),
    fields: {
      site: id(11),
      name: 'MW-1',
      standing: 'in-service',
      depthsFrom: 'ground',
      stickUpFt: '2.0',
      casingInsideDiameterIn: '2.067',
      totalDepthFt: '58.0',
      screenTopFt: '43.0',
      screenBottomFt: '53.0',
    },
  },
  pointSinceMs: null,
  level: { record: id(12), kind: 'water-level', at: '2026-05-04T09:00:00-05:00', figure: '24.00' },
  bottom: { record: id(13), kind: 'sounding', at: '2026-05-04T09:05:00-05:00', figure: '59.8' },
  intake: { record: id(14), kind: 'visit-summary', at: '2025-10-06T09:00:00-05:00', figure: '50.0' },
  units,
};

const asked = storedPlanInput.parse({
  pumpingDepthToWaterFt: '25.5',
  productOrVapour: false,
  waterTemperatureC: '12.0',
  altitudeFt: '500',
  suites: ['PFAS', 'metals'],
});

describe('a plan for a well on record', () => {
  it('is the plan of the question that the records complete', () => {
    const { taken, cautions, ...plan } = storedPlan(records, asked);
    const same = pumpSetUpPlan.answer(
      pumpSetUpPlan.input.parse({
        ...asked,
        depthsFrom: 'ground',
        stickUpFt: '2.0',
        casingInsideDiameterIn: '2.067',
        totalDepthFt: '58.0',
        screenTopFt: '43.0',
        screenBottomFt: '53.0',
        staticDepthToWaterFt: '24.00',
        soundedDepthFt: '59.8',
        lastIntakeFt: '50.0',
        units: units.flatMap(unitsAtHand),
      }),
    );
    expect({ ...plan, cautions: cautions.slice(1) }).toEqual(same);
    expect(plan.intakeFt).toBe('50.0');
    expect(plan.partsAgainst.join()).toContain('P-1 Bladder');
    expect(plan.drivePressures.length).toBeGreaterThan(0);
    expect([plan.lowestRatedPart, plan.lowestRatedPsi]).toEqual(['tubing', '100']);
    expect(cautions[0]).toContain('24.00 ft is of 2026-05-04T09:00:00-05:00: measure it again');
    expect(taken.map(({ field, kind, figure }) => `${field} ${figure} of ${kind}`)).toEqual([
      'stickUpFt 2.0 of well',
      'casingInsideDiameterIn 2.067 of well',
      'totalDepthFt 58.0 of well',
      'screenTopFt 43.0 of well',
      'screenBottomFt 53.0 of well',
      'staticDepthToWaterFt 24.00 of water-level',
      'soundedDepthFt 59.8 of sounding',
      'lastIntakeFt 50.0 of visit-summary',
    ]);
  });

  it('lets what is given go before what is on record, and says so by taking it from nowhere', () => {
    const given = { ...asked, staticDepthToWaterFt: '23.10', casingInsideDiameterIn: '4.026', lastIntakeFt: '48.0' };
    const plan = storedPlan(records, given);
    expect(plan.intakeFt).toBe('48.0');
    expect(plan.cautions.join()).not.toContain('measure it again');
    const fields = plan.taken.map(({ field }) => field);
    for (const field of ['staticDepthToWaterFt', 'casingInsideDiameterIn', 'lastIntakeFt']) {
      expect(fields).not.toContain(field);
    }
    expect(storedPlan(records, { ...given, lastIntakeFt: undefined }).intakeFt).toBe('50.0');
  });

  it('takes no depth that was measured from another measuring point than the one of today, and says so', () => {
    const moved = Date.parse('2026-05-04T09:02:00-05:00');
    const plan = storedPlan({ ...records, pointSinceMs: moved }, { ...asked, staticDepthToWaterFt: '24.31' });
    expect(plan.taken.map(({ field }) => field)).not.toContain('lastIntakeFt');
    expect(plan.taken.map(({ field }) => field)).toContain('soundedDepthFt');
    expect(plan.cautions.join()).toContain(
      'The intake of last time of 50.0 ft, of 2025-10-06T09:00:00-05:00, is below',
    );
    const refused = storedPlan({ ...records, pointSinceMs: moved }, asked);
    expect(refused.refused).toContain('measure it');
    expect(refused.cautions.join()).toContain('The level of 24.00 ft');
    expect(storedPlan({ ...records, pointSinceMs: Date.parse('2020-01-01T00:00:00Z') }, asked)).toEqual(
      storedPlan(records, asked),
    );
  });

  it('takes a level above the measuring point only of a well that is known to flow', () => {
    const level = { record: id(12), kind: 'water-level', at: '2026-05-04T09:00:00-05:00', figure: '-0.35' };
    const plan = storedPlan({ ...records, level }, asked);
    expect(plan.refused).toContain('measure it');
    expect(plan.cautions.join()).toContain('not known to flow');
    const fields = { ...records.well.fields, knownToFlow: true };
    const flows = storedPlan({ ...records, level, well: { ...records.well, fields } }, asked);
    expect(flows.taken.map(({ figure }) => figure)).toContain('-0.35');
  });

  it('takes parts that are on no record beside the units', () => {
    const few = { ...records, units: [bladderPump, regulator] };
    const parts = [
      { part: 'tubing' as const, label: 'roll', maximumPsi: '80' },
      { part: 'fitting' as const, label: 'barb', maximumPsi: '90' },
    ];
    const plan = storedPlan(few, { ...asked, parts });
    expect([plan.lowestRatedPart, plan.lowestRatedPsi, plan.ratingsToRecord]).toEqual(['tubing', '80', []]);
  });

  it('is refused without a diameter or a level, and says what to record', () => {
    const { casingInsideDiameterIn: _none, ...unsized } = records.well.fields;
    const plan = storedPlan({ ...records, well: { ...records.well, fields: unsized } }, asked);
    expect(plan.refused).toContain('casingInsideDiameterIn');
    const dry = storedPlan({ ...records, level: null }, asked);
    expect(dry.refused).toContain('measure it, and give staticDepthToWaterFt');
    expect([dry.intakeFt, dry.drivePressures, dry.taken.length]).toEqual([null, [], 7]);
    for (const one of [plan, dry]) expect(storedPlanOutput.parse(one)).toEqual(one);
  });
});

describe('without ratings, no figure, but what to record', () => {
  const RATED = [bladderPump, tubing, fitting, regulator];

  it.each(RATED.map((one) => [one.fields.label, one] as const))('where %s has none', (label, without) => {
    const { maximumPressurePsi: _none, ...fields } = without.fields;
    const unrated = units.map((one) => (one === without ? { ...one, fields } : one));
    const plan = storedPlan({ ...records, units: unrated }, asked);
    expect([plan.drivePressures, plan.lowestRatedPsi, plan.refused]).toEqual([[], null, null]);
    expect(plan.ratingsToRecord.join()).toContain(label);
  });

  it.each(RATED.map((one) => [one.fields.label, one] as const))('where %s is not named', (_label, without) => {
    const plan = storedPlan({ ...records, units: units.filter((one) => one !== without) }, asked);
    expect([plan.drivePressures, plan.lowestRatedPsi]).toEqual([[], null]);
    expect(plan.ratingsToRecord.length).toBeGreaterThan(0);
  });

  it('whatever else is at hand: no pressure above the least rating, and none at all where one is missing', () => {
    const psi = fc.option(fc.integer({ min: 1, max: 400 }).map(String), { nil: undefined });
    fc.assert(
      fc.property(fc.tuple(psi, psi, psi, psi), (ratings) => {
        const rated = RATED.map((one, index) => {
          const { maximumPressurePsi: _was, ...fields } = one.fields;
          const is = ratings[index];
          return { ...one, fields: is === undefined ? fields : { ...fields, maximumPressurePsi: is } };
        });
        const plan = storedPlan({ ...records, units: [...rated, cell] }, asked);
        if (ratings.includes(undefined)) return plan.drivePressures.length === 0 && plan.lowestRatedPsi === null;
        const least = Math.min(...ratings.map(Number));
        return plan.drivePressures.every(({ toPsi }) => Number(toPsi) <= least);
      }),
      { numRuns: 200 },
    );
  });
});

describe('a recorded unit in a plan', () => {
  it('is the part that it is, with what is recorded of it and nothing else', () => {
    expect(unitsAtHand(bladderPump)).toEqual([
      {
        part: 'pump',
        label: 'P-1',
        pumpKind: 'bladder-pump',
        outsideDiameterIn: '1.66',
        maximumDepthFt: '200',
        volumeMl: '150',
        maximumPsi: '120',
      },
      { part: 'other', label: 'P-1 body', material: 'stainless steel' },
      { part: 'bladder', label: 'P-1 Bladder', material: 'PTFE' },
    ]);
    expect(unitsAtHand(cell)).toEqual([{ part: 'flow-cell', label: 'C-1', volumeMl: '250' }]);
    const meter = unit(6, { type: 'multi-parameter-meter', label: 'M-1', flowCellVolumeMl: '500' });
    expect(unitsAtHand(meter)).toEqual([{ part: 'flow-cell', label: 'M-1', volumeMl: '500' }]);
    expect(unitsAtHand(unit(7, { type: 'water-level-tape' }))).toEqual([]);
  });

  it.each(UNIT_TYPES)('%s fits into the question', (type) => {
    const wettedParts = [{ part: 'a part with a long name '.repeat(3).slice(0, 64), material: 'PVC' }];
    const atHand = unitsAtHand(unit(8, { type, label: 'L'.repeat(64), wettedParts, maximumPressurePsi: '50' }));
    const [example] = (pumpSetUpPlan.input.meta()?.examples ?? []) as object[];
    const question = { ...example, units: atHand };
    expect(pumpSetUpPlan.input.safeParse(question).success).toBe(true);
  });

  it('drives the pump where the units leave no doubt of it', () => {
    const compressor = unit(20, { type: 'compressor', batteryCapacityAh: '12' });
    const cylinder = unit(21, { type: 'gas-cylinder', tankVolumeL: '10' });
    const battery = unit(22, { type: 'battery', batteryCapacityAh: '35' });
    expect(driveOf([compressor])).toEqual({ driveGasFrom: 'compressor', batteryAh: '12' });
    expect(driveOf([cylinder, battery])).toEqual({ driveGasFrom: 'cylinder', cylinderL: '10', batteryAh: '35' });
    expect(driveOf([compressor, cylinder, battery])).toEqual({ cylinderL: '10' });
    expect(driveOf([cylinder, cylinder])).toEqual({ driveGasFrom: 'cylinder' });
    expect(driveOf([])).toEqual({});
  });
});
