import { describe, expect, it } from 'vitest';
import { carriedOver } from '../../../src/rules/equipment/carried-over.ts';
import { trailOfSample, trailOfUnit } from '../../../src/rules/equipment/contamination-trail.ts';
import { equipmentIndex } from '../../../src/rules/equipment/equipment-index.ts';
import { at, Day, ENDED_IS_CLEAN, voided } from './equipment-day.ts';

const index = (day: Day) => equipmentIndex(day.lists, ENDED_IS_CLEAN);
const carried = (day: Day, id = 'P-1', kind: 'unit' | 'part' = 'unit') => carriedOver(index(day), { kind, id });

/** One pump at MW-1, MW-2 and MW-3 with a sample each; the decon between the first two is as given. */
function world(decon: 'complete' | 'incomplete' | 'none'): Day {
  const day = new Day();
  day.unit('P-1');
  for (const [at_, hour] of ['08', '10', '12'].entries()) {
    const number = at_ + 1;
    day.well(`MW-${number}`);
    day.pumped(`v${number}`, `MW-${number}`, 'P-1', `${hour}:00`, `${hour}:50`);
    day.sample(`S-${number}`, `v${number}`, `${hour}:40`);
  }
  day.decon('P-1', '07:00', '07:30');
  if (decon !== 'none') day.decon('P-1', '09:00', '09:30', decon === 'complete' ? {} : { labelText: 'incomplete' });
  day.decon('P-1', '11:00', '11:30');
  return day;
}

describe('water carried from well to well', () => {
  it('is none where every decon is complete', () => {
    expect(carried(world('complete'))).toEqual([]);
  });

  it('reaches the samples up to the next complete decon, sorted by what was found before', () => {
    const day = world('incomplete');
    day.result({ sample: 'S-1' }, '50');
    day.result({ sample: 'S-1' }, null, { analyte: 'benzene', casNumber: '71-43-2' });
    day.result({ sample: 'S-2' }, '1.0');
    day.result({ sample: 'S-2' }, '1.0', { analyte: 'benzene', casNumber: '71-43-2' });
    day.result({ sample: 'S-2' }, '1.0', { analyte: 'toluene', casNumber: '108-88-3' });
    day.result({ sample: 'S-2' }, null, { analyte: 'styrene', casNumber: '100-42-5' });
    day.result({ sample: 'S-3' }, '1.0');
    const decon = day.lists.decons.find(({ fields }) => fields.began === at('09:00'));
    expect(carried(day)).toMatchObject([
      {
        visit: 'v2',
        well: 'MW-2',
        fromWells: ['MW-1'],
        decon: decon?.id,
        sentence: 'P-1 came into MW-2 from MW-1: its decon is not complete. The last rinse is missing.',
        samples: [
          {
            sample: 'S-2',
            standing: 'in-question',
            analytes: [
              { analyte: 'styrene', standing: 'cleared', sentence: 'styrene was not detected.' },
              { analyte: 'toluene', standing: 'cannot-tell', sentence: 'No result for toluene of MW-1 is here.' },
              {
                analyte: 'tetrachloroethene',
                standing: 'in-question',
                sentence: 'tetrachloroethene was found at MW-1 too, before it.',
              },
              { analyte: 'benzene', standing: 'cleared', sentence: 'benzene was not detected at MW-1 before it.' },
            ],
          },
        ],
      },
    ]);
  });

  it('says that no decon is recorded, and that no result is here', () => {
    const [found] = carried(world('none'));
    expect(found).toMatchObject({
      decon: null,
      sentence: 'P-1 came into MW-2 from MW-1: no decon is recorded in between.',
      samples: [{ standing: 'cannot-tell', sentence: 'No result of S-2 is here yet.' }],
    });
  });

  it('is cleared of what a clean blank in between shows', () => {
    const day = world('none');
    day.result({ sample: 'S-1' }, '50');
    day.result({ sample: 'S-2' }, '1.0');
    day.blank('EB-1', 'P-1', '09:45');
    expect(carried(day)[0]?.samples[0]?.standing).toBe('in-question');
    day.result({ blank: 'EB-1' }, null);
    expect(carried(day)[0]?.samples[0]).toMatchObject({
      standing: 'cleared',
      sentence: 'EB-1 in between was clean of tetrachloroethene.',
    });
  });

  it('is not cleared by a blank in which as much would not have shown', () => {
    const of = (
      reportingLimit: string | null,
      condition: 'not-detected' | 'below-reporting-limit' = 'not-detected',
    ) => {
      const day = world('none');
      day.result({ sample: 'S-1' }, '50');
      day.result({ sample: 'S-2' }, '1.0');
      day.blank('EB-1', 'P-1', '09:45');
      day.result({ blank: 'EB-1' }, null, { condition, reportingLimit });
      return carried(day)[0]?.samples[0]?.standing;
    };
    expect(of('0.5')).toBe('cleared');
    expect(of('1.0')).toBe('cleared');
    expect(of('50')).toBe('in-question');
    expect(of(null)).toBe('in-question');
    expect(of('0.5', 'below-reporting-limit')).toBe('cleared');
    expect(of('50', 'below-reporting-limit')).toBe('in-question');
  });

  it('is looked at from the last blank on that proves enough, and not from one before a well that was met again', () => {
    const day = world('none');
    for (const decon of day.lists.decons) voided(decon);
    day.result({ sample: 'S-1' }, '50');
    day.result({ sample: 'S-2' }, null);
    day.result({ sample: 'S-3' }, '1.0');
    day.blank('EB-1', 'P-1', '09:45');
    day.result({ blank: 'EB-1' }, null);
    expect(carried(day).at(-1)?.samples[0]?.standing).toBe('cleared');
    Object.assign(day.lists.results.at(-1)?.fields ?? {}, { reportingLimit: '5' });
    expect(carried(day).at(-1)?.samples[0]?.standing).toBe('in-question');
  });

  it('goes on over two wells, the last come first', () => {
    const day = world('none');
    for (const decon of day.lists.decons) voided(decon);
    const found = carried(day);
    expect(found.map(({ well, fromWells }) => [well, fromWells])).toEqual([
      ['MW-2', ['MW-1']],
      ['MW-3', ['MW-2', 'MW-1']],
    ]);
  });

  it('is none into the same well again, and none by a dedicated pump in its own', () => {
    const day = world('none');
    for (const visit of day.lists.visits) Object.assign(visit.fields, { well: 'MW-1' });
    for (const decon of day.lists.decons) voided(decon);
    expect(carried(day)).toEqual([]);
    const other = world('complete');
    Object.assign(other.lists.units[0]?.fields ?? {}, { use: 'dedicated', dedicatedTo: 'MW-1' });
    for (const decon of other.lists.decons) voided(decon);
    expect(carried(other).map(({ well }) => well)).toEqual(['MW-2', 'MW-3']);
  });

  it('goes with a soft part from pump to pump, and ends with a decon of the pump that it is on', () => {
    const day = world('complete');
    day.unit('P-2');
    day.part('line-1', { lot: 'L-9' });
    day.change('P-1', 'line-1', 'installed', '07:45');
    day.change('P-2', 'line-1', 'installed', '09:05');
    day.well('MW-9');
    day.pumped('v9', 'MW-9', 'P-2', '09:40', '10:20');
    day.sample('S-9', 'v9', '10:10');
    day.result({ sample: 'S-1' }, '50');
    day.result({ sample: 'S-9' }, '1.0');
    expect(carried(day, 'line-1', 'part')).toMatchObject([
      { well: 'MW-9', fromWells: ['MW-1'], samples: [{ sample: 'S-9', standing: 'in-question' }] },
    ]);
    expect(carried(day, 'line-1', 'part')[0]?.sentence).toBe(
      'tubing line-1 came into MW-9 from MW-1: no decon is recorded in between.',
    );
    day.decon('P-2', '09:10', '09:30');
    expect(carried(day, 'line-1', 'part')).toEqual([]);
  });
});

describe('the trail', () => {
  it('leads from a unit to wells, decons, parts, rinsates and samples', () => {
    const day = world('complete');
    day.unit('P-2');
    day.part('line-1');
    day.change('P-1', 'line-1', 'installed', '07:45');
    day.change('P-2', 'line-1', 'installed', '13:30');
    day.blank('EB-1', 'P-1', '09:45');
    const trail = trailOfUnit(index(day), 'P-1');
    expect(trail?.wells.map(({ well }) => well)).toEqual(['MW-1', 'MW-2', 'MW-3']);
    expect(trail?.decons.map(({ isClean }) => isClean)).toEqual([true, true, true]);
    expect(trail?.parts).toEqual([{ part: 'line-1', from: at('07:45'), otherUnits: ['P-2'] }]);
    expect(trail?.rinsates).toEqual([{ blank: 'EB-1', collected: at('09:45') }]);
    expect(trail?.samples.map(({ sample }) => sample)).toEqual(['S-1', 'S-2', 'S-3']);
    expect(trail?.carriedOver).toEqual([]);
    expect(trailOfUnit(index(day), 'P-7')).toBeUndefined();
  });

  it('leads from a sample back to what it passed, the wells before and the decons', () => {
    const day = world('incomplete');
    day.unit('T-1', { type: 'water-level-tape' });
    day.level('v2', 'T-1', '10:05');
    day.part('line-1');
    day.change('P-1', 'line-1', 'installed', '09:35');
    day.blank('EB-1', 'P-1', '09:45');
    const trail = trailOfSample(index(day), 'S-2');
    expect(trail).toMatchObject({ sample: 'S-2', well: 'MW-2' });
    expect(trail?.behind).toMatchObject([
      {
        carrier: { kind: 'unit', id: 'P-1' },
        foundIn: 'being-cleaned',
        isClean: false,
        wellBefore: { well: 'MW-1', until: at('08:50') },
        rinsateBefore: 'EB-1',
        rinsateAfter: null,
      },
      { carrier: { kind: 'part', id: 'line-1' }, wellBefore: null },
      { carrier: { kind: 'unit', id: 'T-1' }, foundIn: 'unknown', isClean: false, wellBefore: null },
    ]);
    expect(trail?.behind[0]?.decons).toHaveLength(1);
    expect(trailOfSample(index(day), 'S-99')).toBeUndefined();
  });
});
