import { describe, expect, it } from 'vitest';
import { drawdownForecast } from '../../../src/rules/questions/drawdown-forecast.ts';
import { stabilizationForecast } from '../../../src/rules/questions/stabilization-forecast.ts';

const askLevel = (input: object) => drawdownForecast.answer(drawdownForecast.input.parse(input));
const ask = (input: object) => stabilizationForecast.answer(stabilizationForecast.input.parse(input));

const at = (depths: readonly string[]) =>
  depths.map((depthToWaterFt, index) => ({ elapsedMin: String(5 * index), depthToWaterFt }));

describe('where it is asked what cannot be', () => {
  const falling = [
    { elapsedMin: '0', depthToWaterFt: '22.00' },
    { elapsedMin: '10', depthToWaterFt: '22.50' },
    { elapsedMin: '20', depthToWaterFt: '23.00' },
  ];

  it('a screen across the water table has no top to keep away from', () => {
    const across = { levels: falling, screenTopFt: '20.0', staticDepthToWaterFt: '21.5' };
    expect(askLevel(across).refused).toContain('The water stands in the screen before anybody pumps');
    expect(askLevel({ ...across, intakeDepthFt: '25.0' }).arrivals.map(({ at }) => at)).toEqual(['intake']);
    expect(askLevel({ ...across, staticDepthToWaterFt: '19.9' }).arrivals.map(({ at }) => at)).toEqual(['screen-top']);
  });

  it('a margin lies above and never below', () => {
    expect(() => askLevel({ levels: falling, intakeDepthFt: '25.0', marginFt: '-3.0' })).toThrow('below zero');
  });

  it('a volume that must be drawn and cannot be told is said to be missing', () => {
    const example = stabilizationForecast.input.meta()?.examples as readonly [{ readings: unknown }];
    const given = { criteria: 'epa-region-4-well-volumes-2013', readings: example[0].readings };
    const answer = stabilizationForecast.answer(stabilizationForecast.input.parse(given));
    expect(answer.refused).toContain('ask for a volume to be drawn');
    expect(answer.parameters).toEqual([]);
  });
});

describe('at this rate, when does the water reach the screen top or the intake?', () => {
  const worked = { levels: at(['17.50', '17.75', '18.00']), screenTopFt: '20.0', marginFt: '1.0' };

  it('answers the worked case: 2.0 ft above the screen, margin 1.0 ft, 0.05 ft/min', () => {
    const answer = askLevel({ ...worked, intakeDepthFt: '25.0' });
    expect(answer).toMatchObject({ refused: null, direction: 'falling', fallFtPerMin: '0.0500' });
    expect(answer.arrivals.map(({ minutes }) => minutes)).toEqual(['20', '120']);
    expect(answer.reasons).toHaveLength(2);
    expect(answer.cautions[0]).toContain('rate of pumping stays as it is');
  });

  it('says which levels it left out', () => {
    const bent = ['18.00', '18.30', '18.50', '18.65', '18.77', '18.88', '18.98', '19.08', '19.17'];
    expect(askLevel({ levels: at(bent), intakeDepthFt: '25.0' }).reasons.at(-1)).toBe(
      'The first 4 levels are left out: the fall was bent there.',
    );
  });

  it('refuses with reasons: steady, rising, too few, nowhere to get to', () => {
    expect(askLevel({ ...worked, levels: at(['18.00', '18.00', '18.00']) })).toMatchObject({
      direction: 'steady',
      fallFtPerMin: null,
      refused: expect.stringContaining('No fall can be told'),
    });
    expect(askLevel({ ...worked, levels: at(['18.00', '17.80', '17.60']) }).refused).toContain('rises');
    expect(askLevel({ ...worked, levels: at(['18.00']) }).refused).toContain('too few');
    expect(askLevel({ levels: worked.levels })).toMatchObject({
      direction: null,
      arrivals: [],
      refused: expect.stringContaining('No depth to get to'),
    });
  });

  it('says that the water is there, even where it is steady', () => {
    const answer = askLevel({ ...worked, levels: at(['19.20', '19.20', '19.20']) });
    expect(answer.direction).toBe('steady');
    expect(answer.reasons).toEqual([
      'The water has reached 19.0 ft, 1.0 ft above the top of the screen: lower the rate or stop.',
    ]);
  });
});

describe('when will the water be stable?', () => {
  const [example] = (stabilizationForecast.input.meta()?.examples ?? []) as [{ readings: object[] }];

  it('answers its example, the same each time, and by another seed nearly so', () => {
    const answer = ask(example);
    expect(answer).toMatchObject({ refused: null, horizonMin: '60', intervalMin: '5' });
    expect(answer.parameters.find(({ parameter }) => parameter === 'ph')).toMatchObject({
      status: 'forecast',
      readings: 5,
    });
    expect(ask(example)).toEqual(answer);
    expect(ask({ ...example, seed: 2 }).parameters.map(({ status }) => status)).toEqual(
      answer.parameters.map(({ status }) => status),
    );
  });

  it('judges by what the plan fixes: another arithmetic, more readings, a longer interval, a slow cell', () => {
    const ph = (more: object) => ask({ ...example, ...more }).parameters.find(({ parameter }) => parameter === 'ph');
    expect(Number(ph({ absoluteArithmetic: 'band' })?.earliestMin)).toBeLessThanOrEqual(
      Number(ph({ absoluteArithmetic: 'total-spread' })?.earliestMin),
    );
    expect(ask({ ...example, minimumIntervalS: 600 }).intervalMin).toBe('10');
    const flowing = example.readings.map((one) => ({ ...one, flowMlPerMin: '50' }));
    const slow = { criteria: 'epa-region-1-low-stress-rev-4', readings: flowing, flowCellVolumeMl: '500' };
    expect(ask({ ...example, ...slow }).intervalMin).toBe('10');
    expect(ask({ ...example, horizonMin: 120 }).horizonMin).toBe('120');
  });

  it('begins anew where the flow changes, and takes a null for nothing', () => {
    const flow = ['200', '200', '300', '300', '300'];
    const readings = example.readings.map((one, index) => ({ ...one, flowMlPerMin: flow[index], turbidityFnu: null }));
    const answer = ask({ ...example, readings });
    expect(answer.parameters.find(({ parameter }) => parameter === 'ph')).toMatchObject({ status: 'too-few-readings' });
    expect(answer.reasons).toContain('Readings count anew since the flow changed.');
  });

  // Colorado state file, doc 794463, page 7, where a reviewer saw that the steps grow
  it('promises nothing of the published readings that did not come to rest, and says why', () => {
    const rows = [
      ['9.29', '252'],
      ['9.21', '282'],
      ['9.08', '335'],
    ];
    const readings = rows.map(([ph, specificConductanceUsPerCm], index) => {
      return { elapsedMin: String(5 * index), ph, specificConductanceUsPerCm };
    });
    const answer = ask({ criteria: 'puls-and-barcelona-1996', readings });
    expect(answer.parameters.flatMap(({ likelyMin, earliestMin }) => [likelyMin, earliestMin])).not.toContain('5');
    expect(answer.together).toMatchObject({ status: 'too-few-readings', likelyMin: null });
    expect(answer.reasons).toEqual([
      'pH is still falling, by more at each step: it is moving away from a steady state.',
      'Specific conductance is still rising, by more at each step: it is moving away from a steady state.',
    ]);
  });

  it('refuses without readings, and by criteria that this catalog does not have', () => {
    expect(ask({ ...example, readings: [] })).toMatchObject({
      together: null,
      refused: expect.stringContaining('No reading'),
    });
    const given = stabilizationForecast.input.parse(example);
    expect(stabilizationForecast.answer({ ...given, criteria: 'a-set-of-2040' }).refused).toContain('a-set-of-2040');
    expect(() => ask({ ...example, criteria: 'a-set-of-2040' })).toThrow('no criteria set');
  });

  it('warns of recalled figures, and does not of those that were seen', () => {
    const recalled = 'Figures of these criteria are from memory: the plan decides.';
    expect(ask(example).cautions).toContain(recalled);
    expect(ask({ ...example, criteria: 'paul-and-puls-2001' }).cautions).not.toContain(recalled);
  });
});
