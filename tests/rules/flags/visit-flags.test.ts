import { describe, expect, it } from 'vitest';
import type { VectorGiven } from '../../../src/rules/flags/flag-vector.ts';
import { vectorFacts } from '../../../src/rules/flags/vector-bundle.ts';
import { vectorId } from '../../../src/rules/flags/vector-ids.ts';
import { visitFlags } from '../../../src/rules/flags/visit-flags.ts';
import type { VisitBundle } from '../../../src/rules/visit-bundle.ts';
import { CLEAN_VISIT } from './clean-visit.ts';

const SOUNDING = vectorId(0x200);
const READING = 0x1000;
const voided = { reason: 'entered at the wrong well', by: null };

function bundleOf(given: VectorGiven, superseded?: Record<string, Record<string, unknown[]>>): VisitBundle {
  const former = Object.entries(superseded ?? {}).map(
    ([record, fields]) => [record, new Map(Object.entries(fields))] as const,
  );
  return { ...vectorFacts(given).bundle, superseded: new Map(former) };
}

function flagsOf(given: VectorGiven, superseded?: Record<string, Record<string, unknown[]>>) {
  return visitFlags(bundleOf(given, superseded), vectorFacts(given).assessments);
}

const nest = { well: { totalDepthFt: '25.3' }, nestWells: [{ name: 'MW-4D', totalDepthFt: '61.8' }] };

describe('visit flags', () => {
  it('raises nothing on a believable visit', () => {
    expect(flagsOf(CLEAN_VISIT)).toEqual([]);
  });

  it('raises one flag for a dead meter, with its 40 readings as evidence', () => {
    const readings = Array.from({ length: 40 }, () => ({ ph: '15.20' }));
    const flags = flagsOf({ levels: [{ depthToWaterFt: '12.00' }], readings });
    expect(flags.map((flag) => [flag.rule, flag.subjectKind])).toEqual([['value-not-believable', 'purge']]);
    expect(flags[0]?.evidence).toHaveLength(40);
    expect(flags[0]?.evidence[0]).toEqual({ record: vectorId(READING), field: 'ph', shows: '15.20' });
    expect(flags[0]?.sentence).toContain('pH 15.20 in 40 readings');
  });

  it('names every field of a meter that fails in several, still as one flag', () => {
    const readings = [{ ph: '-3.00', turbidityNtu: '-999', flowMlPerMin: '-1', purgedMl: '-1' }];
    const [flag, ...others] = flagsOf({ levels: [{}], readings });
    expect(others).toEqual([]);
    expect(flag?.evidence.map((piece) => piece.field)).toEqual(['flowMlPerMin', 'ph', 'purgedMl', 'turbidityNtu']);
  });

  it('tells the crew now while it is at the well, and tonight once it has left', () => {
    const given: VectorGiven = { ...nest, soundings: [{ depthToBottomFt: '61.6' }] };
    expect(flagsOf(given)[0]).toMatchObject({ severity: 'stop', addressee: 'now' });
    const left = { left: '2026-05-04T11:30:00-05:00', outcome: 'gauged-only' } as const;
    expect(flagsOf({ ...given, visit: left })[0]).toMatchObject({ severity: 'stop', addressee: 'tonight' });
  });

  it('[E5] asks about a crew that is no longer assigned also where it voided a reading, or the whole visit', () => {
    const ended = '2026-05-04T15:10:00Z';
    const late = bundleOf({ levels: [{}], readings: [{}, { afterAssignment: ended }] });
    const [purge] = late.purges;
    if (!purge) throw new Error('a purge is needed');
    const readings = purge.readings.map((one) => (one.afterAssignment ? { ...one, voided } : one));
    const rules = (bundle: VisitBundle) => visitFlags(bundle, new Map()).map(({ rule }) => rule);
    expect(rules({ ...late, purges: [{ ...purge, readings }] })).toContain('crew-no-longer-assigned');
    const afterAssignment = { assignment: vectorId(9), ended };
    expect(rules({ ...late, visit: { ...late.visit, voided, afterAssignment } })).toEqual(['crew-no-longer-assigned']);
    expect(rules({ ...bundleOf({ readings: [{}] }), visit: { ...late.visit, voided } })).toEqual([]);
  });

  it('sorts by rule and subject, and cuts no evidence', () => {
    const flags = flagsOf({
      well: { totalDepthFt: '25.3' },
      soundings: [{ depthToBottomFt: '31.0' }],
      readings: [{ ph: '15' }],
      visit: { left: '2026-05-04T11:30:00-05:00' },
    });
    expect(flags.map((flag) => flag.rule)).toEqual([
      'left-without-outcome',
      'no-level-before-purge',
      'sounding-fits-no-well',
      'value-not-believable',
    ]);
  });

  it('keeps two purges of a visit apart', () => {
    const bundle = bundleOf({ levels: [{}], readings: [{ ph: '15' }] });
    const [first] = bundle.purges;
    if (first === undefined) throw new Error('the case has no purge');
    const second = { ...first, purge: { ...first.purge, id: vectorId(0x9) } };
    for (const purges of [
      [second, first],
      [first, second],
    ])
      expect(visitFlags({ ...bundle, purges }, new Map()).map((flag) => flag.subject)).toEqual([
        vectorId(0x8),
        vectorId(0x9),
      ]);
  });

  it('asks for the level before the first of two purges, once', () => {
    const bundle = bundleOf({ readings: [{}] });
    const [first] = bundle.purges;
    if (first === undefined) throw new Error('the case has no purge');
    const second = { ...first, purge: { ...first.purge, id: vectorId(0x9) } };
    for (const purges of [
      [second, first],
      [first, second],
    ]) {
      const flags = visitFlags({ ...bundle, purges }, new Map());
      expect(flags.map((flag) => flag.rule)).toEqual(['no-level-before-purge']);
      expect(flags[0]?.evidence[0]?.record).toBe(vectorId(0x8));
    }
  });

  it('fits sentence and shown value into their fields, whatever is typed', () => {
    const number = '💧'.repeat(32);
    const samples = Array.from({ length: 9 }, () => ({ at: '10:31', number, suites: Array(40).fill('💧'.repeat(30)) }));
    const because = `${'x'.repeat(3_000)}💧`;
    const assessment = {
      missing: [],
      conditions: { drawdown: { status: 'within' as const, required: false, because } },
      call: { agreement: 'differs' as const, because },
    };
    for (const flag of flagsOf({ readings: [{}], samples, assessment })) {
      expect(flag.sentence.length).toBeLessThanOrEqual(1_000);
      expect(flag.sentence.isWellFormed()).toBe(true);
      for (const { shows } of flag.evidence) expect(shows?.length ?? 0).toBeLessThanOrEqual(200);
    }
  });
});

describe('voided records', () => {
  it('raise nothing: a voided visit', () => {
    const bundle = bundleOf({ ...nest, soundings: [{ depthToBottomFt: '61.6' }] });
    expect(visitFlags({ ...bundle, visit: { ...bundle.visit, voided } }, new Map())).toEqual([]);
  });

  it('raise nothing: a voided sounding, also by what it formerly said', () => {
    const bundle = bundleOf(
      { ...nest, soundings: [{ depthToBottomFt: '61.6' }] },
      {
        [SOUNDING]: { depthToBottomFt: ['61.5'] },
      },
    );
    const soundings = bundle.soundings.map((one) => ({ ...one, voided }));
    expect(visitFlags({ ...bundle, soundings }, new Map())).toEqual([]);
  });

  it('raise nothing: the readings of a voided purge', () => {
    const bundle = bundleOf({ readings: [{ ph: '15' }] });
    const purges = bundle.purges.map((one) => ({ ...one, purge: { ...one.purge, voided } }));
    expect(visitFlags({ ...bundle, purges }, new Map())).toEqual([]);
  });

  it('do not count as the sample that the outcome speaks of', () => {
    const bundle = bundleOf({ visit: { outcome: 'sampled' }, calls: [{}], levels: [{}], samples: [{ at: '10:40' }] });
    const samples = bundle.samples.map((one) => ({ ...one, voided }));
    expect(visitFlags(bundle, new Map())).toEqual([]);
    expect(visitFlags({ ...bundle, samples }, new Map()).map((one) => one.rule)).toEqual(['sampled-without-sample']);
  });
});

describe('a value that was corrected', () => {
  it('keeps its flag listed as cleared, with the former value as evidence', () => {
    const flags = flagsOf(
      { ...nest, soundings: [{ depthToBottomFt: '25.2' }] },
      {
        [SOUNDING]: { depthToBottomFt: ['61.6'] },
      },
    );
    expect(flags).toHaveLength(1);
    expect(flags[0]).toMatchObject({ rule: 'sounding-fits-another-well', standing: 'cleared' });
    expect(flags[0]?.sentence).toMatch(/^61\.6 ft is near .*Cleared because the value was edited\.$/);
    expect(flags[0]?.evidence).toContainEqual({ record: SOUNDING, field: 'depthToBottomFt', shows: '61.6' });
  });

  it('does not list as cleared what still stands raised', () => {
    const readings = [{ ph: '7.1' }, { ph: '15' }];
    const flags = flagsOf({ levels: [{}], readings }, { [vectorId(READING)]: { ph: ['16'] } });
    expect(flags.map((flag) => [flag.rule, flag.standing])).toEqual([['value-not-believable', 'raised']]);
    expect(flags[0]?.evidence).toEqual([{ record: vectorId(READING + 1), field: 'ph', shows: '15' }]);
  });

  it('gathers all former values of one cause, also those in between', () => {
    const readings = [{ ph: '7.1' }, { ph: '7.2' }];
    const flags = flagsOf(
      { levels: [{}], readings },
      {
        [vectorId(READING)]: { ph: ['15', '16'] },
        [vectorId(READING + 1)]: { ph: ['15'] },
      },
    );
    expect(flags).toHaveLength(1);
    expect(flags[0]?.sentence).toContain('pH 15 in 2 readings');
    expect(flags[0]?.evidence.map((piece) => piece.shows)).toEqual(['15', '16', '15']);
  });

  it('lists a flag that editing the method took away, with the method as evidence', () => {
    const given: VectorGiven = { visit: { method: 'passive' }, samples: [{ at: '10:31' }] };
    const visit = vectorId(5);
    const [flag, ...others] = flagsOf(given, { [visit]: { method: ['low-flow'] } });
    expect(others).toEqual([]);
    expect(flag).toMatchObject({ rule: 'bottles-before-call', standing: 'cleared' });
    expect(flag?.evidence).toContainEqual({ record: visit, field: 'method', shows: 'low-flow' });
  });

  it('is not what completing an empty field is', () => {
    const visit = { left: '2026-05-04T11:30:00-05:00', outcome: 'gauged-only' } as const;
    expect(flagsOf({ visit }, { [vectorId(5)]: { outcome: [null], left: [undefined] } })).toEqual([]);
  });

  it('raises no second flag for a cause that another standing flag tells', () => {
    const given: VectorGiven = {
      ...nest,
      soundings: [{ depthToBottomFt: '61.6' }],
      levels: [{ depthToWaterFt: '30.00' }],
    };
    const flags = flagsOf(given, { [SOUNDING]: { depthToBottomFt: ['25.2'] } });
    expect(flags.map((flag) => [flag.rule, flag.standing])).toEqual([['sounding-fits-another-well', 'raised']]);
  });

  it('clears by the assessment of the visit as it stood, where the caller can tell it', () => {
    const given: VectorGiven = { levels: [{}], readings: [{ ph: '7.1' }], calls: [{}] };
    const bundle = bundleOf(given, { [vectorId(READING)]: { ph: ['7.4'] } });
    const differs = (bundleThen: VisitBundle) => {
      const formerly = bundleThen.purges[0]?.readings[0]?.fields.ph === '7.4';
      const { assessments } = vectorFacts({
        readings: [],
        assessment: {
          missing: [],
          conditions: { drawdown: { status: 'within', required: false, because: 'steady' } },
          call: formerly ? { agreement: 'differs', because: 'pH moved.' } : { agreement: 'agrees' },
        },
      });
      return assessments;
    };
    expect(visitFlags(bundle, differs(bundle))).toEqual([]);
    expect(visitFlags(bundle, differs(bundle), differs)).toMatchObject([{ rule: 'call-differs', standing: 'cleared' }]);
  });
});

describe('a visit re-homed to the right well', () => {
  it('raises nothing: the reason is in the record', () => {
    const given: VectorGiven = {
      well: { name: 'MW-4D', totalDepthFt: '61.8' },
      soundings: [{ depthToBottomFt: '61.6' }],
    };
    expect(flagsOf(given, { [vectorId(5)]: { well: [vectorId(0x60)] } })).toEqual([]);
  });
});
