import { describe, expect, it } from 'vitest';
import { equipmentFacts } from '../../../src/rules/equipment/equipment-facts.ts';
import { sampleTrailTold } from '../../../src/rules/equipment-told/sample-trail-told.ts';
import { SEES_ALL, type Sight } from '../../../src/rules/equipment-told/sight.ts';
import { toldNames } from '../../../src/rules/equipment-told/told-names.ts';
import { Day, ENDED_IS_CLEAN } from '../equipment/equipment-day.ts';

function told(day: Day, sample: string, sight: Sight = SEES_ALL) {
  const { index, judgeOf } = equipmentFacts(day.lists, { judgeDecon: ENDED_IS_CLEAN });
  const trail = sampleTrailTold(sample, { index, names: toldNames(index, []), sight, judgeOf });
  if (!trail) throw new Error(`no trail of ${sample}`);
  return trail;
}

/** A pump out of a well with PFAS that was flushed as after organics, and a sample of the next well for these suites. */
function afterPfas(suites: readonly string[], protocols: readonly string[]): Day {
  const day = new Day();
  day.unit('P-1');
  day.decon('P-1', '07:00', '07:30');
  Object.assign(day.well('MW-1').fields, { contaminants: ['pfas'] });
  day.well('MW-2');
  day.pumped('v1', 'MW-1', 'P-1', '08:00', '08:50');
  for (const [at, protocol] of protocols.entries()) day.decon('P-1', `09:${at}0`, `09:${at}9`, { protocol });
  day.pumped('v2', 'MW-2', 'P-1', '10:00', '10:50');
  Object.assign(day.sample('S-2', 'v2', '10:40').fields, { suites });
  return day;
}

describe('gear that was cleaned of something else', () => {
  it('keeps a sample for PFAS from being cleared, and says why', () => {
    const trail = told(afterPfas(['PFAS'], ['pump-flush']), 'S-2');
    expect(trail.standing).toBe('cannot-tell');
    expect(trail.sentence).toContain('P-1 came out of MW-1, which holds PFAS, and was cleaned by');
    expect(trail.sentence).toContain('does not serve against PFAS');
    expect(trail.behind).toMatchObject([{ foundIn: 'clean', isClean: false }]);
  });

  it('clears it where a second cleaning serves, and where the sample is for something else', () => {
    expect(told(afterPfas(['PFAS'], ['pump-flush', 'pfas-free-rinse']), 'S-2')).toMatchObject({
      standing: 'cleared',
      sentence: 'By the records all gear went in clean, and no blank that failed lies behind it.',
    });
    expect(told(afterPfas(['VOC'], ['pump-flush']), 'S-2')).toMatchObject({
      standing: 'cleared',
      sentence: 'By the records no gear brought in what it was taken for, and no blank that failed lies behind it.',
    });
    expect(told(afterPfas(['the usual'], ['pump-flush']), 'S-2').standing).toBe('cannot-tell');
  });
});

/** A rental that nobody is known to have cleaned, a sample, and a blank after it. */
function rental(): Day {
  const day = new Day();
  day.unit('P-1', { ownership: 'rented' });
  day.service('P-1', 'arrived', '06:00');
  day.well('MW-1');
  day.pumped('v1', 'MW-1', 'P-1', '08:00', '08:50');
  day.sample('S-1', 'v1', '08:40');
  day.blank('EB-1', 'P-1', '12:00');
  return day;
}

const UNKNOWN = 'P-1 was not known to be clean as it went in, and of where it was before nothing is recorded.';

describe('gear that was never known to be clean', () => {
  it('is not made clean by one analyte that was judged', () => {
    const day = rental();
    day.result({ sample: 'S-1' }, null);
    expect(told(day, 'S-1')).toMatchObject({ standing: 'cannot-tell', sentence: UNKNOWN });
    day.result({ blank: 'EB-1' }, '0.8');
    const trail = told(day, 'S-1');
    expect(trail.blanks).toMatchObject([{ standing: 'cleared' }]);
    expect(trail).toMatchObject({ standing: 'cannot-tell', sentence: UNKNOWN });
  });

  it('is no worse than what a blank puts in question', () => {
    const day = rental();
    day.result({ sample: 'S-1' }, '3.0');
    day.result({ blank: 'EB-1' }, '0.8');
    expect(told(day, 'S-1').standing).toBe('in-question');
  });

  it('that stays in the well into which it went clean brings nothing in', () => {
    const day = new Day();
    day.unit('P-1');
    day.well('MW-1');
    day.decon('P-1', '07:00', '07:30');
    day.pumped('v1', 'MW-1', 'P-1', '08:00', '08:50');
    day.pumped('v2', 'MW-1', 'P-1', '10:00', '10:50');
    day.sample('S-2', 'v2', '10:40');
    expect(told(day, 'S-2').standing).toBe('cleared');
  });
});

describe('a blank of an event that the reader does not follow', () => {
  it('is neither listed nor quoted, and says what it makes of the sample', () => {
    const day = rental();
    day.result({ sample: 'S-1' }, '3.0');
    Object.assign(day.lists.blanks[0]?.fields ?? {}, { event: 'event-2' });
    day.result({ blank: 'EB-1' }, '0.8');
    const all = told(day, 'S-1');
    expect(all.sentence).toContain('0.8');
    const seen = told(day, 'S-1', { sees: (event) => event !== 'event-2' });
    expect(seen).toMatchObject({
      standing: 'in-question',
      sentence: 'A blank through the same gear, of an event that you do not follow, puts it in question.',
      blanks: [],
    });
  });
});
