import { describe, expect, it } from 'vitest';
import { flowingWellLevel } from '../../../src/rules/questions/flowing-well-level.ts';
import { groundwaterElevation } from '../../../src/rules/questions/groundwater-elevation.ts';
import { productCorrection } from '../../../src/rules/questions/product-correction.ts';
import { tapeOutOfPlumb } from '../../../src/rules/questions/tape-out-of-plumb.ts';
import { tidalMeanLevel } from '../../../src/rules/questions/tidal-mean-level.ts';
import { verticalGradient } from '../../../src/rules/questions/vertical-gradient.ts';
import { waterLevelRepeat } from '../../../src/rules/questions/water-level-repeat.ts';
import { waterLiftedByPump } from '../../../src/rules/questions/water-lifted-by-pump.ts';

describe('do the repeated depths to water agree?', () => {
  const ask = (input: object) => waterLevelRepeat.answer(waterLevelRepeat.input.parse(input));

  it('says yes with the depth that counts', () => {
    expect(ask({ depthsToWaterFt: ['23.47', '23.45', '23.46'] })).toMatchObject({
      agree: true,
      depthToWaterFt: '23.46',
    });
  });

  it('asks for another reading, and tells of the wider tolerance where the plan has none', () => {
    const answer = ask({ depthsToWaterFt: ['23.47', '23.45'] });
    expect(answer).toMatchObject({ agree: false, differenceFt: '0.02', depthToWaterFt: null });
    expect(answer.reasons).toEqual([
      'The last two readings differ by 0.02 ft, more than 0.01 ft.',
      'Measure again until two in a row agree.',
      'The plan gave no tolerance: 0.01 ft is usual, 0.02 ft is in use too.',
    ]);
    expect(ask({ depthsToWaterFt: ['23.47', '23.45'], toleranceFt: '0.02' }).reasons).toHaveLength(1);
  });

  it('warns of an electric tape below 200 ft', () => {
    expect(ask({ depthsToWaterFt: ['200.00', '200.00'] }).cautions).toEqual([]);
    expect(ask({ depthsToWaterFt: ['200.01', '200.01'] }).cautions[0]).toContain('steel tape');
  });

  it('refuses a single reading', () => {
    expect(ask({ depthsToWaterFt: ['23.47'] })).toMatchObject({ agree: null, differenceFt: null });
  });
});

describe('how high does the water stand?', () => {
  const given = { measuringPointElevationFt: '48.22', depthToWaterFt: '9.08' };

  it('names the datum, or asks for it', () => {
    const named = groundwaterElevation.answer({ ...given, verticalDatum: 'NAVD 88' });
    expect(named).toMatchObject({ waterElevationFt: '39.14', verticalDatum: 'NAVD 88', cautions: [] });
    const unnamed = groundwaterElevation.answer(given);
    expect(unnamed).toMatchObject({ waterElevationFt: '39.14', verticalDatum: null });
    expect(unnamed.cautions[0]).toContain('datum is not given');
  });

  it('refuses what is no depth', () => {
    expect(groundwaterElevation.answer({ ...given, depthToWaterFt: 'dry' }).refused).toContain('plain decimal');
  });
});

describe('how high would the water stand without the product on it?', () => {
  const ask = (input: object) => productCorrection.answer(productCorrection.input.parse(input));
  const given = { depthToProductFt: '8.75', depthToWaterFt: '9.08', specificGravity: '0.83' };

  // County file, doc 471029, page 11 (30 Jul 2003).
  it('gives 8.81 ft, and 39.41 for 39.14 ft', () => {
    expect(ask({ ...given, measuringPointElevationFt: '48.22' })).toMatchObject({
      thicknessFt: '0.33',
      correctedDepthToWaterFt: '8.81',
      waterElevationFt: '39.14',
      correctedWaterElevationFt: '39.41',
      formationThicknessIn: null,
    });
    expect(ask(given)).toMatchObject({ waterElevationFt: null, correctedWaterElevationFt: null });
  });

  it('says where the density comes from, or that nobody said', () => {
    expect(ask(given).reasons[0]).toContain('its source is not given');
    expect(ask({ ...given, specificGravityFrom: 'laboratory' }).reasons[0]).toContain('(laboratory)');
  });

  // Kuo, 2nd ed., p. 32, ex. 2.17: 75 in in the well, 0.8, fringe of 12 in: 3 in.
  it('estimates the formation only with a capillary fringe', () => {
    const kuo = { depthToProductFt: '10.00', depthToWaterFt: '16.25', specificGravity: '0.8' };
    expect(ask({ ...kuo, capillaryFringeIn: '12' }).formationThicknessIn).toBe('3.0');
    const wrong = ask({ ...kuo, capillaryFringeIn: '-12' });
    expect(wrong.formationThicknessIn).toBeNull();
    expect(wrong.reasons.at(-1)).toContain('No estimate for the formation');
  });

  it('never assumes a density, refuses what sinks, and warns of vapour', () => {
    expect(ask({ ...given, specificGravity: undefined }).refused).toContain('never assumed');
    expect(ask({ ...given, specificGravity: '1.46' }).refused).toContain('does not float');
    expect(ask(given).cautions[0]).toContain('no compressor, battery or unrated meter');
  });
});

describe('how high would the water of this flowing well stand?', () => {
  const ask = (input: object) => flowingWellLevel.answer(flowingWellLevel.input.parse(input));
  const given = { gaugePressurePsi: '5.0', waterTemperatureC: '10', gaugeAboveMeasuringPointFt: '0.50' };

  it('gives 11.54 ft for 5.0 psi at 10 °C, and says what a step of the gauge is', () => {
    expect(ask({ ...given, measuringPointElevationFt: '812.30' })).toMatchObject({
      headAboveGaugeFt: '11.54',
      depthToWaterFt: '-12.04',
      waterElevationFt: '824.34',
      gaugeStepFt: '0.23',
    });
    expect(ask(given).waterElevationFt).toBeNull();
    expect(ask(given).cautions[0]).toContain('under pressure');
  });

  it('refuses a gauge that pulls and a temperature that is none', () => {
    expect(ask({ ...given, gaugePressurePsi: '-0.1' }).refused).toContain('carries no water');
    expect(ask({ ...given, waterTemperatureC: '90' })).toMatchObject({ headAboveGaugeFt: null });
  });
});

describe('what is the mean level of this tidal well?', () => {
  const hourly = (count: number, shiftMs = 0) =>
    Array.from({ length: count }, (_, hour) => ({
      at: new Date(hour * 3_600_000 + (hour === 40 ? shiftMs : 0)).toISOString(),
      depthToWaterFt: (7 + Math.cos((2 * Math.PI * hour) / 12.4206)).toFixed(2),
    }));
  const ask = (hourlyLevels: object[]) => tidalMeanLevel.answer(tidalMeanLevel.input.parse({ hourlyLevels }));

  it('takes the tide out, and belongs to the middle hour', () => {
    expect(ask(hourly(71))).toMatchObject({
      meanDepthToWaterFt: '7.00',
      at: '1970-01-02T11:00:00.000Z',
      tidalRangeFt: '2.00',
    });
  });

  it('takes a reading that is up to five minutes off its hour', () => {
    expect(ask(hourly(71, 300_000)).refused).toBeNull();
    expect(ask(hourly(71, 300_001)).refused).toContain('not on its hour');
    expect(ask(hourly(71, -300_001)).refused).toContain('1970-01-02T15:54:59.999Z');
  });

  it('refuses too few, and none', () => {
    expect(ask(hourly(70)).refused).toContain('70 hourly values');
    expect(ask([]).refused).toContain('0 hourly values');
  });
});

describe('by how much does the pump lift the water as it goes in?', () => {
  const ask = (input: object) => waterLiftedByPump.answer(waterLiftedByPump.input.parse(input));
  const given = {
    casingInsideDiameterIn: '2.067',
    pumpDiameterIn: '1.5',
    pumpLengthFt: '2.0',
    pumpTopBelowWaterFt: '10.0',
  };

  it('gives 1.05 ft, and more with lines', () => {
    expect(ask(given)).toMatchObject({ riseFt: '1.05', displacedL: '0.695' });
    expect(Number(ask({ ...given, lineOutsideDiametersIn: ['0.25', '0.25'] }).riseFt)).toBeGreaterThan(1.05);
  });

  it('refuses a pump that does not fit', () => {
    expect(ask({ ...given, pumpDiameterIn: '2.5' })).toMatchObject({ riseFt: null, displacedL: null });
  });
});

describe('how deep is the water straight down, in a well that is out of plumb?', () => {
  it('gives 100.000 ft for a tape of 100.005 ft that is 1 ft out', () => {
    expect(tapeOutOfPlumb.answer({ tapeReadingFt: '100.005', offsetFt: '1' })).toMatchObject({
      plumbDepthFt: '100.000',
      tapeTooLongFt: '0.005',
    });
    expect(tapeOutOfPlumb.answer({ tapeReadingFt: '1', offsetFt: '2' }).refused).toContain('cannot reach');
  });
});

describe('does the water of this nest strive up or down?', () => {
  const ask = (part: object) =>
    verticalGradient.answer(
      verticalGradient.input.parse({
        upperHeadFt: '100.20',
        lowerHeadFt: '100.50',
        upperMiddleElevationFt: '80.0',
        lowerMiddleElevationFt: '50.0',
        ...part,
      }),
    );

  it('tells up from down, and a difference within the errors from none', () => {
    expect(ask({})).toMatchObject({ gradient: '0.0100', gradientError: '0.0005', direction: 'up' });
    expect(ask({ lowerHeadFt: '99.90' }).direction).toBe('down');
    expect(ask({ lowerHeadFt: '100.21' }).direction).toBe('not-told-apart');
    expect(ask({ levelErrorFt: '0.2' }).direction).toBe('not-told-apart');
  });

  it('refuses screens in the wrong order', () => {
    expect(ask({ lowerMiddleElevationFt: '90' })).toMatchObject({ gradient: null, direction: null });
  });
});
