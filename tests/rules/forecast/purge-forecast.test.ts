import { describe, expect, it } from 'vitest';
import type { AssessmentInput, ReadingRecord } from '../../../src/rules/assessment/assessment-input.ts';
import { forecastPurge } from '../../../src/rules/forecast/purge-forecast.ts';
import { seededUniform } from '../../../src/science/forecast/seeded-uniform.ts';
import { inputOf, later, level, occurrence, type Purge, reading, setUp, well } from '../assessment/purge-fixture.ts';

const SCREENED = well({ screenTopFt: '20.0', screenBottomFt: '30.0' });

/** Water that falls by 0.05 ft a minute from 17.50 ft, read every five minutes. */
function readings(count: number, more: (at: number) => Partial<ReadingRecord['fields']> = () => ({})): ReadingRecord[] {
  return Array.from({ length: count }, (_, at) =>
    reading({ time: later(300 * at) }, { depthToWaterFt: (17.5 + 0.25 * at).toFixed(2), ph: '7.1', ...more(at) }),
  );
}

function ask(purge: Purge, change: (input: AssessmentInput) => AssessmentInput = (input) => input) {
  const options = { horizonMin: 60, marginFt: '1.0', uniform: seededUniform(1) };
  return forecastPurge(change(inputOf(purge)), options);
}

describe('how a running purge goes on', () => {
  it('foresees the level at the screen, as built below the measuring point, and at the intake', () => {
    const intake = [setUp({ time: '09:50' }, { intakeDepthFt: '25.0' })];
    const { levels, latestReadingAt } = ask({ readings: readings(3), well: SCREENED, setUps: intake });
    expect(latestReadingAt).toBe(later(600));
    expect(levels).toMatchObject({ direction: 'falling', refused: null });
    expect(levels.arrivals).toMatchObject([
      { at: 'screen-top', minutes: '20' },
      { at: 'intake', minutes: '120' },
    ]);
    const ground = well({ screenTopFt: '18.0', depthsFrom: 'ground', stickUpFt: '2.0' });
    expect(ask({ readings: readings(3), well: ground }).levels.arrivals).toMatchObject([
      { depthFt: '19.0', minutes: '20' },
    ]);
  });

  it('foresees no level without a depth to get to', () => {
    for (const without of [null, well(), well({ screenTopFt: '18.0', depthsFrom: 'ground' })])
      expect(ask({ readings: readings(3), well: without }).levels).toMatchObject({
        direction: 'not-known',
        refused: expect.stringContaining('no top of a screen'),
      });
  });

  it('keeps away from the top of a screen only where the water stands above it before pumping', () => {
    const before = (depth: string) => [level({ time: '09:50' }, 'before-purge', depth)];
    const setUps = [setUp({ time: '09:50' }, { intakeDepthFt: '25.0' })];
    const places = (depth: string) =>
      ask({ readings: readings(3), well: SCREENED, setUps, levels: before(depth) }).levels.arrivals.map(({ at }) => at);
    expect(places('17.00')).toEqual(['screen-top', 'intake']);
    expect(places('20.00')).toEqual(['intake']);
  });

  it('foresees nothing while no water moves, nor where a volume that is asked for cannot be told', () => {
    const dry = readings(4, () => ({ flowMlPerMin: '0' }));
    const turning = { readings: dry, setUps: [setUp({ time: '09:50' }, { flowCellVolumeMl: '250' })] };
    expect(ask(turning).stabilization).toMatchObject({
      parameters: [],
      refused: expect.stringContaining('No water moves'),
    });
    const asked = { criteria: 'epa-region-4-well-volumes-2013', readings: readings(4) };
    expect(ask(asked).stabilization).toMatchObject({
      parameters: [],
      refused: expect.stringContaining('record inside diameter of the casing'),
    });
    const reported = ask({ ...asked, plan: { whenUnknown: 'reported' } }).stabilization;
    expect(reported).toMatchObject({ refused: null });
  });

  it('takes pumping levels that were measured beside the readings', () => {
    const levels = [0, 1, 2].map((at) => level({ time: later(300 * at) }, 'pumping', (17.5 + 0.25 * at).toFixed(2)));
    const bare = [reading({ time: later(0) }, { ph: '7.1' })];
    expect(ask({ readings: bare, levels, well: SCREENED }).levels.arrivals).toMatchObject([{ minutes: '20' }]);
  });

  it('counts levels since the rate was changed, whoever says so', () => {
    const of = (purge: Purge) => ask({ well: SCREENED, ...purge }).levels;
    const changed = (flowMlPerMin: string | undefined) => [
      occurrence({ time: later(350) }, 'flow-changed', flowMlPerMin === undefined ? {} : { flowMlPerMin }),
    ];
    const at200 = readings(6, () => ({ flowMlPerMin: '200' }));
    expect(of({ readings: at200 }).levels).toBe(6);
    expect(of({ readings: at200, occurrences: changed('210') }).levels).toBe(6);
    expect(of({ readings: at200, occurrences: changed(undefined) }).levels).toBe(4);
    expect(of({ readings: readings(6), occurrences: changed('150') }).levels).toBe(4);
    expect(of({ readings: readings(6, (at) => ({ flowMlPerMin: at < 2 ? '200' : '150' })) }).levels).toBe(4);
    expect(of({ readings: readings(6, (at) => (at === 0 ? { flowMlPerMin: '200' } : {})) }).levels).toBe(6);
    for (const type of ['pump-stopped', 'pump-restarted'] as const)
      expect(of({ readings: readings(6), occurrences: [occurrence({ time: later(350) }, type)] }).levels).toBe(4);
    expect(of({ readings: readings(6), occurrences: [occurrence({ time: later(350) }, 'cell-cleaned')] }).levels).toBe(
      6,
    );
    const late = [occurrence({ time: later(1300) }, 'pump-restarted')];
    expect(of({ readings: readings(6), occurrences: late }).refused).toContain('1 levels are too few');
  });

  it('foresees stabilization with what the assessment advises, and its criteria', () => {
    const approach = ['7.82', '7.55', '7.39', '7.27', '7.18'];
    const found = ask({ readings: readings(5, (at) => ({ ph: approach[at] ?? '' })), well: SCREENED });
    expect(found.criteria).toBe('epa-region-1-low-stress-rev-4');
    expect(found.stabilization.parameters.find(({ parameter }) => parameter === 'ph')).toMatchObject({
      status: 'forecast',
    });
    expect(found.advice).toContain('pH is still falling.');
    expect(found.cautions).toContain('Figures of these criteria are from memory: the plan decides.');
    expect(found.sources[0]).toContain('EQASOP-GW4');
    const seen = ask({ readings: readings(5), criteria: 'paul-and-puls-2001' });
    expect(seen.cautions.join()).not.toContain('from memory: the plan');
  });

  it('says what lacks without readings, and that a purge ended', () => {
    expect(ask({ readings: [], well: SCREENED })).toMatchObject({
      latestReadingAt: null,
      stabilization: { refused: 'No reading was recorded yet.', together: null },
      levels: { refused: expect.stringContaining('0 levels') },
    });
    const ended = later(3600);
    const { cautions } = ask({ readings: readings(5) }, (input) => ({
      ...input,
      purge: { ...input.purge, fields: { ...input.purge.fields, ended } },
    }));
    expect(cautions[0]).toBe(`The purge ended at ${ended}: this is what could be foreseen then.`);
  });

  it('foresees nothing by criteria that the catalog does not have', () => {
    const found = ask({ readings: readings(5), criteria: 'a-set-of-2040' });
    expect(found.stabilization).toMatchObject({ parameters: [], refused: expect.stringContaining('a-set-of-2040') });
    expect(found.levels).toMatchObject({ direction: null, refused: expect.stringContaining('not in the catalog') });
  });
});
