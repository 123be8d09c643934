import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pumpSetUpPlan } from '../../../src/rules/questions/pump-set-up-plan.ts';

const ask = (input: object) => pumpSetUpPlan.answer(pumpSetUpPlan.input.parse(input));
const kindOf = (answer: ReturnType<typeof ask>, kind: string) => {
  const found = answer.pumps.find((one) => one.kind === kind);
  if (!found) throw new Error(`no ${kind} in the answer`);
  return found;
};

const well = {
  depthsFrom: 'measuring-point',
  casingInsideDiameterIn: '2.067',
  totalDepthFt: '60.0',
  screenTopFt: '45.0',
  screenBottomFt: '55.0',
  staticDepthToWaterFt: '18.0',
  pumpingDepthToWaterFt: '18.3',
  productOrVapour: false,
  waterTemperatureC: '10.0',
  altitudeFt: '0',
  suites: ['metals'],
};

const pump = {
  part: 'pump',
  label: 'P-1',
  pumpKind: 'bladder-pump',
  outsideDiameterIn: '1.66',
  maximumDepthFt: '200',
  volumeMl: '150',
  material: 'stainless steel',
  maximumPsi: '120',
};
const rated = [
  pump,
  { part: 'bladder', label: 'B-1', material: 'polyethylene' },
  { part: 'tubing', label: 'T-1', material: 'polyethylene', maximumPsi: '100' },
  { part: 'fitting', label: 'F-1', maximumPsi: '150' },
  { part: 'regulator', label: 'R-1', maximumPsi: '125' },
  { part: 'flow-cell', label: 'C-1', volumeMl: '250' },
];
const whole = {
  ...well,
  units: rated,
  flowMlPerMin: '200',
  readingIntervalMin: '5',
  purgeMin: '60',
  deconL: '8',
  drumUsableL: '180',
  waterTubingInsideDiameterIn: '0.17',
  waterTubingOutsideDiameterIn: '0.25',
  airTubingInsideDiameterIn: '0.17',
  waterLineAtSurfaceFt: '6',
  airLineAtSurfaceFt: '4',
  driveGasFrom: 'cylinder',
  cylinderL: '10',
  cylinderPsi: '2000',
  regulatorPsi: '100',
  batteryAh: '35',
  batteryUsablePercent: '50',
  batteryDrawA: '7',
};

/** The same well with a rating of one part changed. */
const withRating = (part: string, maximumPsi: string | undefined) => ({
  ...whole,
  units: rated.map((unit) => (unit.part === part ? { ...unit, maximumPsi } : unit)),
});

describe('which kind of pump serves', () => {
  // Common practice, no source: suction below 27 ft; the table of surface pumps and physics may allow less.
  it.each([
    ['26.9', true],
    ['27.0', false],
    ['27.5', false],
  ])('a pumping level at %s ft passes common practice at sea level: %s', (pumpingDepthToWaterFt, passes) => {
    const answer = ask({ ...well, pumpingDepthToWaterFt });
    expect(answer.suctionLimits.find((one) => one.by === 'common-practice')?.passes).toBe(passes);
    expect(answer.suctionLimits.find((one) => one.by === 'physics')?.passes).toBe(true);
    expect(kindOf(answer, 'peristaltic-pump').serves).toBe('no');
  });

  it('takes the pumping level: 24.0 ft at rest and 3.5 ft of drawdown are 27.5 ft', () => {
    const answer = ask({ ...well, staticDepthToWaterFt: '24.0', pumpingDepthToWaterFt: '27.5', suctionLiftFt: '27' });
    expect(answer.suctionLiftFt).toBe('27.5');
    const suction = kindOf(answer, 'peristaltic-pump');
    expect(suction.serves).toBe('no');
    expect(suction.reasons[0]).toContain('27.5 ft from the pumping level');
    expect(
      kindOf(ask({ ...well, pumpingDepthToWaterFt: '24.0', suctionLiftFt: '27' }), 'peristaltic-pump').serves,
    ).toBe('yes');
  });

  it('lets a plan set practice aside, and never physics: 26.9 ft at 5,000 ft and 30 °C is the limit', () => {
    const high = { ...well, altitudeFt: '5000', waterTemperatureC: '30', suctionLiftFt: '27' };
    const at = (pumpingDepthToWaterFt: string) =>
      kindOf(ask({ ...high, pumpingDepthToWaterFt }), 'peristaltic-pump').serves;
    expect(at('26.8')).toBe('yes');
    expect(at('26.9')).toBe('no');
  });

  it('counts the head of the pump above the measuring point, and the altitude', () => {
    expect(kindOf(ask(well), 'peristaltic-pump').serves).toBe('yes');
    expect(kindOf(ask({ ...well, pumpHeadAboveMeasuringPointFt: '4.0' }), 'peristaltic-pump').serves).toBe('no');
    expect(kindOf(ask({ ...well, altitudeFt: '5280' }), 'peristaltic-pump').serves).toBe('no');
    const above = kindOf(ask({ ...well, altitudeFt: '11000' }), 'peristaltic-pump');
    expect(above).toMatchObject({ serves: 'no', reasons: ['No practical lift is known at this altitude.'] });
    expect(ask({ ...well, stationPressureMmHg: '400' }).suctionLimits.at(-1)).toMatchObject({ passes: false });
  });

  it('keeps suction away from volatiles', () => {
    const answer = ask({ ...well, suites: ['VOC'] });
    expect(kindOf(answer, 'peristaltic-pump').reasons[0]).toContain('draws volatiles');
    expect(kindOf(answer, 'bladder-pump').reasons[1]).toContain('excellent');
  });

  it('compares the pump with the casing and with its depth', () => {
    const named = (part: object) => kindOf(ask({ ...well, units: [{ ...pump, ...part }] }), 'bladder-pump');
    expect(named({}).serves).toBe('yes');
    expect(named({ outsideDiameterIn: '2.067' }).reasons[0]).toContain('does not go into');
    expect(named({ outsideDiameterIn: '0' }).reasons[0]).toContain('above 0');
    expect(named({ maximumDepthFt: '49.9' }).reasons[0]).toContain('49.9 ft at most');
    expect(named({ maximumDepthFt: '50.0' }).serves).toBe('yes');
    const unrecorded = named({ outsideDiameterIn: undefined, maximumDepthFt: undefined });
    expect(unrecorded).toMatchObject({ serves: 'with-conditions' });
    expect(unrecorded.reasons.slice(1)).toHaveLength(2);
  });

  it('without a pump at hand says what to look for, and more in a narrow casing', () => {
    expect(kindOf(ask(well), 'submersible-pump').reasons.at(-1)).toContain('thinner than 2.067 in');
    const narrow = kindOf(ask({ ...well, casingInsideDiameterIn: '1.049' }), 'bladder-pump');
    expect(narrow.serves).toBe('with-conditions');
    expect(narrow.reasons.join(' ')).toContain('narrower than 1.5 in');
  });

  it('with product or vapour brings no compressor, battery or motor near the casing', () => {
    const answer = ask({ ...whole, productOrVapour: true, driveGasFrom: undefined });
    expect(kindOf(answer, 'peristaltic-pump').serves).toBe('no');
    expect(kindOf(answer, 'submersible-pump').serves).toBe('no');
    expect(kindOf(answer, 'bladder-pump')).toMatchObject({ serves: 'with-conditions' });
    expect(answer.cautions[0]).toContain('no compressor, battery or unrated meter near the casing');
    expect(answer.checkList.join()).not.toContain('Polarity');
    const compressor = ask({ ...whole, productOrVapour: true, driveGasFrom: 'compressor' });
    expect(compressor.pumps.map((one) => one.serves)).toEqual(['no', 'no', 'no']);
    expect(compressor).toMatchObject({ drivePressures: [], refillS: null, gasPerCycleMl: null, cyclesPerMin: null });
    expect(kindOf(ask({ ...whole, productOrVapour: true }), 'bladder-pump').serves).toBe('with-conditions');
  });
});

describe('materials', () => {
  it('for PFAS say no to a PTFE bladder, with the reason', () => {
    const units = [...rated, { part: 'bladder', label: 'B-2', material: 'PTFE' }];
    const answer = ask({ ...whole, suites: ['PFAS'], units });
    expect(answer.materials.find((one) => one.material === 'ptfe')?.suitability).toBe('does-not-suit');
    expect(answer.partsAgainst).toEqual([expect.stringContaining('bladder B-2 of PTFE does not suit')]);
  });

  it('are not passed for a suite that is not known', () => {
    const answer = ask({ ...well, suites: ['suite B'] });
    expect(answer.materials).toEqual([]);
    expect(answer.cautions.join(' ')).toContain('No material was checked for "suite B"');
  });
});

describe('the intake', () => {
  it('goes to the middle of the screen, or where it was or is planned', () => {
    expect(ask(well)).toMatchObject({
      intakeFt: '50.0',
      submergenceFt: '31.7',
      clearFromFt: '45.0',
      clearToFt: '55.0',
    });
    expect(ask({ ...well, lastIntakeFt: '51.5' }).intakeFt).toBe('51.5');
    expect(ask({ ...well, lastIntakeFt: '44.0' }).intakeFt).toBe('50.0');
    const planned = ask({ ...well, plannedIntakeFt: '17.0' });
    expect(planned.intakeConflicts.map((one) => one.kind)).toEqual(['above-water']);
    expect(planned.cautions.join(' ')).toContain('would draw air');
  });

  it('adds the stick-up to depths below ground, and is refused without it', () => {
    expect(ask({ ...well, depthsFrom: 'ground', stickUpFt: '2.5' }).intakeFt).toBe('52.5');
    expect(ask({ ...well, depthsFrom: 'ground' }).refused).toContain('stickUpFt');
    const sounded = { ...well, depthsFrom: 'ground', totalDepthFt: undefined, screenTopFt: undefined };
    expect(ask({ ...sounded, screenBottomFt: undefined, soundedDepthFt: '60.3' }).intakeFt).toBe('39.3');
  });

  it('takes the sounded bottom before the recorded one, and the water column without a screen', () => {
    expect(ask({ ...well, soundedDepthFt: '50.0' }).clearToFt).toBe('48.0');
    const column = ask({ ...well, screenTopFt: undefined });
    expect(column.reasons.join(' ')).toContain('whole water column');
  });

  it('says so where no depth is clear', () => {
    const answer = ask({ ...well, pumpingDepthToWaterFt: '54.5', soundedDepthFt: '55.0' });
    expect(answer).toMatchObject({ clearFromFt: null, clearToFt: null });
    expect(answer.reasons.join(' ')).toContain('the plan decides');
  });

  it.each([
    [{ pumpingDepthToWaterFt: '17.9' }, 'above the static one'],
    [{ pumpingDepthToWaterFt: '55.0' }, 'no saturated screen'],
    [{ totalDepthFt: undefined }, 'How deep the well is'],
    [{ altitudeFt: '30000' }, 'altitude'],
    [{ stationPressureMmHg: '29.92' }, 'outside 380 to 836'],
    [{ waterTemperatureC: '45' }, 'outside 0 to 40'],
  ])('refuses the whole plan for %j, and gives no figure', (part, reason) => {
    const answer = ask({ ...whole, ...part });
    expect(answer.refused).toContain(reason);
    expect(answer).toMatchObject({ pumps: [], intakeFt: null, drivePressures: [], checkList: [] });
  });
});

describe('the drive pressure', () => {
  // Common practice, no source, and hydrostatics, computed: a pump at 50 ft.
  it('for a pump at 50 ft comes lowest first, in psi and feet of water', () => {
    const answer = ask(whole);
    expect(answer.drivePressures).toEqual([
      { rule: 'depth-and-feet-of-water', fromPsi: '26.0', toPsi: '30.3', fromFtOfWater: 60, toFtOfWater: 70 },
      { rule: 'hydrostatic-and-allowance', fromPsi: '31.7', toPsi: '31.7', fromFtOfWater: 73, toFtOfWater: 73 },
      { rule: 'half-psi-a-foot', fromPsi: '35.0', toPsi: '35.0', fromFtOfWater: 81, toFtOfWater: 81 },
    ]);
    expect(answer).toMatchObject({ lowestRatedPart: 'tubing', lowestRatedPsi: '100', ratingsToRecord: [] });
    expect(answer.cautions.join(' ')).toContain('vent the line before anything is disconnected');
  });

  it('without ratings is no figure, but what to record', () => {
    const bare = ask(well);
    expect(bare.drivePressures).toEqual([]);
    expect(bare.ratingsToRecord).toHaveLength(4);
    for (const part of ['pump', 'tubing', 'fitting', 'regulator']) {
      const answer = ask(withRating(part, undefined));
      expect(answer).toMatchObject({ drivePressures: [], gasPerCycleMl: null, lowestRatedPsi: null });
      expect(answer.ratingsToRecord).toEqual([expect.stringContaining(`of the ${part}`)]);
    }
  });

  it('is cut at the rating of the weakest part', () => {
    const answer = ask(withRating('fitting', '30'));
    expect(answer.drivePressures).toEqual([
      { rule: 'depth-and-feet-of-water', fromPsi: '26.0', toPsi: '30', fromFtOfWater: 60, toFtOfWater: 69 },
    ]);
    expect(answer.cautions.join(' ')).toContain('Never above 30 psi');
    const none = ask(withRating('fitting', '25.9'));
    expect(none.drivePressures).toEqual([]);
    expect(none.cautions.join(' ')).toContain('No pressure is given');
    expect(ask(withRating('fitting', '0')).drivePressures).toEqual([]);
  });

  it('names no figure above the least rating, whatever the ratings and the depth are', () => {
    const rating = fc.integer({ min: 1, max: 2_000 }).map((tenths) => (tenths / 10).toFixed(1));
    const depth = fc.integer({ min: 184, max: 599 }).map((tenths) => (tenths / 10).toFixed(1));
    fc.assert(
      fc.property(fc.constantFrom('pump', 'tubing', 'fitting', 'regulator'), rating, depth, (part, psi, at) => {
        const answer = ask({ ...withRating(part, psi), plannedIntakeFt: at });
        const least = Math.min(100, Number(psi));
        for (const one of answer.drivePressures) {
          expect(Number(one.toPsi)).toBeLessThanOrEqual(least);
          expect(one.toFtOfWater * 0.4335).toBeLessThanOrEqual(least);
          expect(one.fromFtOfWater).toBeLessThanOrEqual(one.toFtOfWater);
        }
      }),
    );
  });

  it('counts the outlet above the measuring point, and refuses what is no depth or allowance', () => {
    const [, hydrostatic] = ask({ ...whole, outletAboveMeasuringPointFt: '4' }).drivePressures;
    expect(hydrostatic?.fromPsi).toBe('33.4');
    expect(ask({ ...whole, allowancePsi: '-1' }).drivePressures).toEqual([]);
  });

  it('counts the rating of a bladder or another part where it is recorded, and does not ask for it', () => {
    const units = [...rated, { part: 'other', label: 'manifold', maximumPsi: '29' }];
    expect(ask({ ...whole, units })).toMatchObject({ lowestRatedPart: 'other', lowestRatedPsi: '29' });
  });

  it('warns of a regulator that gives more than the weakest part carries', () => {
    expect(ask(whole).cautions.join(' ')).not.toContain('The regulator gives');
    expect(ask(withRating('tubing', '90')).cautions.join(' ')).toContain(
      'The regulator gives 100 psi, more than the 90',
    );
  });

  it('leaves the rating of a pump of another kind out, and that of a pump of no kind in', () => {
    const other = { ...pump, label: 'P-9', maximumPsi: '10' };
    const of = (pumpKind: string | undefined) =>
      ask({ ...whole, units: [...rated, { ...other, pumpKind }] }).lowestRatedPsi;
    expect(of('submersible-pump')).toBe('100');
    expect(of(undefined)).toBe('10');
  });
});

describe('lines, cycle, gas and water', () => {
  it('says them all where all is given', () => {
    const answer = ask(whole);
    expect(answer).toMatchObject({
      refused: null,
      missing: [],
      waterLineFt: '56.0',
      airLineFt: '54.0',
      refillS: '10',
      dischargeS: '5',
      cyclesPerMin: '4.00',
      strokeMl: '50.0',
      collectionS: '30.0',
      readingIntervalMin: '5.00',
      wasteL: '20.0',
      drums: 1,
      batteryH: '2.50',
    });
    // Computed: 4.4633 mL a foot of 0.17 in, 659.8 mL a foot of 2.067 in; the parts are summed by hand here.
    expect(Number(answer.waterLineMl)).toBeCloseTo(56 * 4.4633, 0);
    expect(Number(answer.systemMl)).toBeCloseTo(150 + 250 + 56 * 4.4633, 0);
    expect(Number(answer.minimumPurgeMl)).toBeCloseTo(0.3 * 659.8 + 56 * 4.4633, 0);
    expect(Number(answer.gasPerCycleMl) / (((54 * 4.4633 + 150) * 35) / 14.696)).toBeCloseTo(1, 2);
    expect(answer.cylinderCycles).toBe(Math.floor((10_000 * 1_900) / ((54 * 4.46344 + 150) * 35)));
    expect(Number(answer.firstWaterSoonestMin)).toBeCloseTo((24 * 4.4633) / 200, 2);
    expect(Number(answer.firstWaterLatestMin)).toBeCloseTo((56 * 4.4633 + 150) / 200, 1);
    expect(answer.reasons.join(' ')).toContain('A little more flow: 9 s refill and 6 s discharge.');
    expect(answer.cautions.join(' ')).toContain('2.16 times');
    expect(answer.cautions.at(-1)).toContain('site safety plan');
  });

  it('waits for the turnover of a large cell, rounded up', () => {
    const cell = rated.map((unit) => (unit.part === 'flow-cell' ? { ...unit, volumeMl: '500' } : unit));
    expect(ask({ ...whole, units: cell, flowMlPerMin: '50' }).readingIntervalMin).toBe('10.00');
    expect(ask({ ...whole, units: cell, flowMlPerMin: '70' }).readingIntervalMin).toBe('7.15');
    expect(ask({ ...whole, flowMlPerMin: '0' }).missing.join(' ')).toContain('turned over');
  });

  it('uses more gas at altitude', () => {
    const [low, high] = [ask(whole), ask({ ...whole, altitudeFt: '5000' })].map((one) => Number(one.gasPerCycleMl));
    expect((high ?? 0) / (low ?? 1)).toBeCloseTo(760 / 632.4, 2);
  });

  it('warns of a stroke that the chamber cannot give, of little submergence and of friction', () => {
    expect(ask({ ...whole, flowMlPerMin: '700' }).cautions.join(' ')).toContain('more than the chamber');
    const shallow = ask({ ...whole, staticDepthToWaterFt: '49.0', pumpingDepthToWaterFt: '49.5' });
    expect(shallow.cautions.join(' ')).toContain('fills slowly');
    expect(ask({ ...whole, waterTubingInsideDiameterIn: '0.11', allowancePsi: '5' }).cautions.join(' ')).toContain(
      'more than the allowance of 5 psi',
    );
    expect(ask({ ...whole, flowMlPerMin: '90000' }).cautions.join(' ')).toContain('is not computed');
    expect(ask(whole).cautions.join(' ')).not.toContain('Friction');
  });

  it('says what is missing for each figure, and guesses none', () => {
    const answer = ask({ ...well, units: rated });
    expect(answer).toMatchObject({
      waterLineFt: null,
      minimumPurgeMl: null,
      systemMl: null,
      strokeMl: null,
      gasPerCycleMl: null,
      batteryH: null,
      wasteL: null,
      readingIntervalMin: null,
      firstWaterLatestMin: null,
    });
    expect(answer.missing.length).toBeGreaterThan(7);
    expect(ask({ ...whole, refillS: '0' })).toMatchObject({ refillS: null, cyclesPerMin: null, gasPerMinL: null });
    expect(ask({ ...whole, waterLineAtSurfaceFt: '4' }).missing.join(' ')).toContain('not longer');
    expect(ask({ ...whole, waterTubingInsideDiameterIn: '0.3' }).missing.join(' ')).toContain('no wall');
    expect(ask({ ...whole, waterTubingInsideDiameterIn: '0' }).minimumPurgeMl).toBeNull();
    const negative = rated.map((unit) => (unit.part === 'pump' ? { ...unit, volumeMl: '-1' } : unit));
    expect(ask({ ...whole, units: negative })).toMatchObject({ systemMl: null, gasPerCycleMl: null, gasPerMinL: null });
    expect(ask({ ...whole, cylinderL: undefined }).cylinderH).toBeNull();
    expect(ask({ ...whole, drumUsableL: undefined })).toMatchObject({ wasteL: '20.0', drums: null });
    expect(ask({ ...whole, dischargeS: '1' }).reasons.join(' ')).not.toContain('A little less');
    expect(ask({ ...whole, refillS: '1' }).reasons.join(' ')).not.toContain('A little more');
  });

  it('has a check list: line tied, O-rings, polarity with a compressor', () => {
    const list = ask({ ...whole, driveGasFrom: 'compressor' }).checkList.join(' ');
    for (const word of ['tied to the pump', 'O-rings', 'Polarity of the 12 V DC', 'vented'])
      expect(list).toContain(word);
    expect(ask(whole).checkList.join(' ')).not.toContain('Polarity');
  });
});

describe('the input', () => {
  it('says the unit of every figure in its name', () => {
    const units = /(?:Ft|In|C|MmHg|Psi|MlPerMin|Ml|S|Min|L|Ah|Percent|A)$/;
    const { units: parts, ...flat } = pumpSetUpPlan.input.shape;
    const words = ['depthsFrom', 'productOrVapour', 'suites', 'driveGasFrom'];
    expect(parts).toBeDefined();
    expect(Object.keys(flat).filter((name) => !units.test(name) && !words.includes(name))).toEqual([]);
  });
});
