import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { AssessmentFields } from '../../../src/protocol/kinds/assessment.ts';
import { assessPurge } from '../../../src/rules/assessment/assess-purge.ts';
import type { VectorGiven } from '../../../src/rules/flags/flag-vector.ts';
import { vectorFacts } from '../../../src/rules/flags/vector-bundle.ts';
import type { PurgeBundle, VisitBundle } from '../../../src/rules/visit-bundle.ts';
import { lastPurge, lastRound } from '../../../src/rules/well-history/last-round.ts';
import { lastRoundSummary } from '../../../src/rules/well-history/last-round-summary.ts';
import { CLEAN_VISIT } from '../flags/clean-visit.ts';

const bundleOf = (given: VectorGiven): VisitBundle => vectorFacts(given).bundle;
const clean = bundleOf(CLEAN_VISIT);
const VOIDED = { reason: 'wrong well', by: null };

function assessed(bundle: VisitBundle): AssessmentFields {
  const run = lastPurge(bundle);
  if (run === undefined) throw new Error('the visit has no purge');
  const plan = { ...bundle.event.fields.plan, criteria: 'epa-region-1-low-stress-rev-2' };
  return assessPurge({ ...bundle, ...run, plan });
}

function withPurge(bundle: VisitBundle, change: (run: PurgeBundle) => PurgeBundle): VisitBundle {
  return { ...bundle, purges: bundle.purges.map(change) };
}

describe('what the next crew should know of a visit', () => {
  it('says how the pump hung and ran, how the water behaved and how it ended', () => {
    const summary = lastRound(clean, assessed(clean));
    expect(summary).toEqual({
      event: clean.event.id,
      eventName: 'Spring round',
      visit: clean.visit.id,
      arrived: '2026-05-04T09:30:00-05:00',
      method: 'low-flow',
      outcome: 'sampled',
      depthToWaterFt: '12.04',
      lowestDepthToWaterFt: '12.24',
      depthToBottomFt: '24.9',
      pump: clean.setUps[0]?.fields.pump,
      pumpType: 'bladder-pump',
      intakeDepthFt: '19.8',
      flowMlPerMin: '200',
      purgedMl: '8000',
      purgeMin: '40',
      wentDry: false,
      criteria: 'epa-region-1-low-stress-rev-2',
      criteriaEdition: assessed(clean).criteria.edition,
      stable: assessed(clean).stable,
      call: 'stable',
      temperatureC: '12.54',
      ph: '6.97',
      specificConductanceUsPerCm: '605',
      dissolvedOxygenMgPerL: '0.55',
      orpMv: '-87',
      turbidityNtu: '3.5',
    });
  });

  it('fits its own schema and is the same after a journey as text', () => {
    const summary = lastRound(clean, assessed(clean));
    expect(lastRoundSummary.parse(JSON.parse(JSON.stringify(summary)))).toEqual(summary);
  });

  it('names when the criteria were first met, and takes the volume of the assessment where none was read', () => {
    const assessment: AssessmentFields = {
      ...assessed(clean),
      firstHeldAt: '2026-05-04T10:35:00-05:00',
      conditions: {
        ...assessed(clean).conditions,
        minimumPurge: { status: 'met', required: true, purgedMl: '6999.6', because: 'Enough.' },
      },
    };
    const noVolume = withPurge(clean, (run) => ({
      ...run,
      readings: run.readings.map((one) => ({ ...one, fields: { ...one.fields, purgedMl: undefined } })),
    }));
    expect(lastRound(noVolume, assessment)).toMatchObject({ minutesToStableMin: '35', purgedMl: '7000' });
    const { conditions } = assessment;
    // beyond the limit the minimum purge counts only what was drawn since the level steadied
    const beyond = { ...conditions.drawdown, status: 'beyond-but-steady' } as const;
    const later = { ...assessment, conditions: { ...conditions, drawdown: beyond } };
    expect(lastRound(noVolume, later)).not.toHaveProperty('purgedMl');
    const volumes = { status: 'met', purgedMl: '9000.4', because: 'Enough.' } as const;
    const drawn = { ...later, conditions: { ...later.conditions, volumes } };
    expect(lastRound(noVolume, drawn)).toMatchObject({ purgedMl: '9000' });
    const { edition: _, ...criteria } = assessment.criteria;
    const bare = lastRound(noVolume, { ...assessment, criteria, conditions: assessed(noVolume).conditions });
    expect(bare).not.toHaveProperty('criteriaEdition');
  });

  it('does not use the assessment of another purge, and does without one', () => {
    const other = { ...assessed(clean), purge: clean.visit.id };
    expect(lastRound(clean, other)).toEqual(lastRound(clean, undefined));
    expect(lastRound(clean, undefined)).not.toHaveProperty('stable');
  });

  it('of a visit without purge, set-up or level says what there is', () => {
    const gauged = bundleOf({
      visit: { method: 'gauging' },
      levels: [{ purpose: 'synoptic', depthToWaterFt: '12.1' }],
    });
    expect(lastRound(gauged, undefined)).toEqual({
      event: gauged.event.id,
      eventName: 'Spring round',
      visit: gauged.visit.id,
      arrived: '2026-05-04T09:30:00-05:00',
      method: 'gauging',
      depthToWaterFt: '12.1',
      wentDry: false,
    });
    expect(lastRound(bundleOf({}), undefined)).not.toHaveProperty('depthToWaterFt');
    const dry = bundleOf({ levels: [{ state: 'dry' }, { purpose: 'synoptic' }], readings: [] });
    expect(lastRound(dry, undefined)).not.toHaveProperty('depthToWaterFt');
  });

  it('tells that the well gave out, from the outcome or from the call', () => {
    expect(lastRound(bundleOf({ ...CLEAN_VISIT, visit: { outcome: 'purged-dry' } }), undefined)?.wentDry).toBe(true);
    const called = bundleOf({ ...CLEAN_VISIT, calls: [{ at: '10:40', decision: 'purged-dry' }] });
    expect(lastRound(called, undefined)).toMatchObject({ wentDry: true, call: 'purged-dry' });
  });

  it('leaves the intake out once it was moved without saying where to, but keeps the rest of the set-up', () => {
    const moved = bundleOf({
      ...CLEAN_VISIT,
      setUps: [{ at: '09:50', intakeDepthFt: '19.8', drivePressurePsi: '35', refillS: '12', dischargeS: '6' }],
      occurrences: [{ at: '10:20', type: 'intake-moved' }],
    });
    const summary = lastRound(moved, undefined);
    expect(summary).toMatchObject({ drivePressurePsi: '35', refillS: '12', dischargeS: '6' });
    expect(summary).not.toHaveProperty('intakeDepthFt');
    const unknownPump = { ...moved, units: new Map() };
    expect(lastRound(unknownPump, undefined)).not.toHaveProperty('pumpType');
  });

  it('takes a flow that was set last, and no figure from the end of a range', () => {
    const slowed = bundleOf({
      ...CLEAN_VISIT,
      occurrences: [
        { at: '10:07', type: 'flow-changed', flowMlPerMin: '250' },
        { at: '10:45', type: 'flow-changed', flowMlPerMin: '120' },
      ],
    });
    expect(lastRound(slowed, undefined)?.flowMlPerMin).toBe('120');
    const over = bundleOf({
      ...CLEAN_VISIT,
      occurrences: [],
      readings: [
        { at: '10:05', turbidityNtu: '40', flowMlPerMin: '180' },
        { at: '10:10', turbidityNtu: '1000', flowMlPerMin: '999', overRange: ['turbidityNtu', 'flowMlPerMin'] },
      ],
    });
    expect(lastRound(over, undefined)).toMatchObject({ turbidityNtu: '40', flowMlPerMin: '180' });
  });

  it('is of the purge that began last, and counts its time to its end where it has one', () => {
    const [first] = clean.purges;
    if (first === undefined) throw new Error('the visit has no purge');
    const later = (id: string, began: string): PurgeBundle => ({
      purge: { ...first.purge, id, fields: { ...first.purge.fields, began, ended: '2026-05-04T12:10:00-05:00' } },
      readings: [],
      occurrences: [],
      calls: [],
    });
    const a = later('00000000-0000-7000-8000-00000000000a', '2026-05-04T11:40:00-05:00');
    const b = later('00000000-0000-7000-8000-00000000000b', '2026-05-04T11:40:00-05:00');
    for (const purges of [
      [first, b, a],
      [a, first, b],
      [b, a, first],
    ])
      expect(lastPurge({ ...clean, purges })?.purge.id).toBe(b.purge.id);
    expect(lastRound({ ...clean, purges: [first, b] }, undefined)?.purgeMin).toBe('30');
    const voided = { ...b, purge: { ...b.purge, voided: VOIDED } };
    expect(lastPurge({ ...clean, purges: [first, voided] })?.purge.id).toBe(first.purge.id);
    const backwards = later(b.purge.id, '2026-05-04T12:40:00-05:00');
    expect(lastRound({ ...clean, purges: [backwards] }, undefined)).not.toHaveProperty('purgeMin');
  });

  it('of a voided visit there is none, and voided records are not spoken of', () => {
    expect(lastRound({ ...clean, visit: { ...clean.visit, voided: VOIDED } }, undefined)).toBeNull();
    const setUps = clean.setUps.map((one) => ({ ...one, voided: VOIDED }));
    expect(lastRound({ ...clean, setUps }, undefined)).not.toHaveProperty('intakeDepthFt');
  });

  it('is the same in whatever order the records come', () => {
    const shuffled = <Item>(items: readonly Item[]) =>
      fc.shuffledSubarray([...items], { minLength: items.length, maxLength: items.length });
    const [run] = clean.purges;
    if (run === undefined) throw new Error('the visit has no purge');
    const assessment = assessed(clean);
    fc.assert(
      fc.property(
        shuffled(clean.levels),
        shuffled(run.readings),
        shuffled(run.occurrences),
        (levels, readings, occurrences) => {
          const mixed = { ...clean, levels, purges: [{ ...run, readings, occurrences }] };
          expect(lastRound(mixed, assessment)).toEqual(lastRound(clean, assessment));
        },
      ),
    );
  });
});
