import { describe, expect, it } from 'vitest';
import { DECON_PROTOCOLS } from '../../../src/catalog/decon/decon-protocols.ts';
import { isCleaningStep } from '../../../src/rules/decon/cleaning-step.ts';
import { deconCompleteness } from '../../../src/rules/decon/completeness.ts';
import { allSteps, at, change, DECON, judge, PARTS, stepsWith } from './decon-parts.ts';

type Judged = ReturnType<typeof judge>;
const topics = ({ findings }: Judged) => findings.map(({ topic, step }) => [topic, step]);

// US Army depot SOP-003, rev. 1, county file, doc 798934, page 69
describe('a bladder pump between wells', () => {
  it('is complete with every step in order, a new bladder and new tubing', () => {
    expect(judge(allSteps())).toEqual({
      standing: 'complete',
      isClean: true,
      findings: [],
      notServed: [],
      sentence: 'By "Bladder pump between wells: wash, new bladder, new tubing": complete.',
      cautions: ['Not every step of the protocol was read in its document.'],
    });
  });

  it('is not without a step', () => {
    const answer = judge(stepsWith('detergent-wash', undefined));
    expect(answer).toMatchObject({ standing: 'incomplete', isClean: false });
    expect(answer.findings).toEqual([
      {
        topic: 'step',
        step: 'detergent-wash',
        concerns: 'cleaning',
        isDeviation: false,
        sentence: 'The step "detergent wash" is not recorded.',
      },
    ]);
  });

  it('is not where the bladder was not replaced, and what was not wet again is not asked for', () => {
    expect(topics(judge(stepsWith('new-bladder', undefined)))).toEqual([['part', 'new-bladder']]);
    expect(judge(stepsWith('new-bladder', { done: false, part: null })).isClean).toBe(false);
    expect(judge(stepsWith('wrap-and-label', undefined)).standing).toBe('complete');
  });

  it('every step of every protocol is asked for, but for those of an occasion', () => {
    for (const { id, steps, gear } of DECON_PROTOCOLS.filter((one) => one.gear.includes('bladder-pump'))) {
      expect(gear).toContain('bladder-pump');
      const records = allSteps(id);
      const parts = [...PARTS, { id: 'line 3', type: 'support-line' }];
      const decon = { ...DECON, protocol: id };
      expect([id, judge(records, { decon, parts }).standing]).toEqual([id, 'complete']);
      for (const { step } of records) {
        const without = records.filter((one) => one.step !== step);
        expect([id, step, judge(without, { decon, parts }).isClean]).toEqual([id, step, false]);
      }
      expect(records.length).toBe(steps.filter(({ when }) => when === undefined).length);
    }
  });
});

// US EPA Region 4, LSASDPROC-205-R4, 22 Jun 2020, p. 1: the variant procedure is documented with why
describe('a deviation', () => {
  const dryingLeftOut = (reason?: string) =>
    allSteps('acid-then-solvent').map((one) => (one.step === 'dry' ? { ...one, done: false, reason } : one));
  const withAcid = { decon: { ...DECON, protocol: 'acid-then-solvent' } };

  it('of a step that does not clean is kept and said with its reason, and the record is complete with it', () => {
    const answer = judge(dryingLeftOut('It went straight into the next well.'), withAcid);
    expect(answer).toMatchObject({ standing: 'complete-with-deviation', isClean: true });
    expect(answer.findings[0]).toMatchObject({
      isDeviation: true,
      sentence: 'The step "dry" was left out. Reason given: It went straight into the next well.',
    });
    expect(answer.sentence).toContain('complete, with a deviation for a reason');
    expect(judge(dryingLeftOut(), withAcid)).toMatchObject({ standing: 'incomplete', isClean: false });
  });

  it('of a wash, a rinse or a new part leaves the unit not clean by its record, whatever the reason', () => {
    for (const step of ['brush-and-rinse', 'detergent-wash', 'potable-rinse', 'distilled-rinse']) {
      const answer = judge(stepsWith(step, { done: false, fluid: null, reason: 'Frozen solid.' }));
      expect(answer).toMatchObject({ standing: 'incomplete', isClean: false });
      expect(answer.findings).toMatchObject([{ step, isDeviation: false }]);
      expect(answer.findings[0]?.sentence).toContain('was left out. Reason given: Frozen solid.');
    }
    const bladder = stepsWith('new-bladder', { done: false, part: null, reason: 'None left in the truck.' });
    expect(judge(bladder)).toMatchObject({ standing: 'incomplete', isClean: false });
    const old = { partChanges: [change('bladder 7', 'installed', '08:00')] };
    expect(judge(stepsWith('new-bladder', { reason: 'None left in the truck.' }), old).isClean).toBe(false);
  });

  it('with every step left out "no time" nothing was cleaned', () => {
    for (const protocol of ['pump-flush', 'bladder-pump-new-parts', 'pfas-free-rinse']) {
      const none = allSteps(protocol).map((one) => ({
        ...one,
        done: false,
        fluid: null,
        part: null,
        reason: 'no time',
      }));
      const answer = judge(none, { decon: { ...DECON, protocol, wasteTo: null } });
      expect([protocol, answer.standing, answer.isClean]).toEqual([protocol, 'incomplete', false]);
    }
  });

  it('every step of the catalog is one that cleans, or one of these that take apart, dry, wrap or label', () => {
    const others = DECON_PROTOCOLS.flatMap(({ steps }) => steps.filter((step) => !isCleaningStep(step)));
    expect([...new Set(others.map(({ id }) => id))].toSorted()).toEqual([
      'bag',
      'dry',
      'o-rings',
      'set-apart',
      'take-apart',
      'tubing',
      'wrap-and-label',
    ]);
  });

  it('without a reason leaves it incomplete', () => {
    const answer = judge(stepsWith('detergent-wash', { done: false, fluid: null }));
    expect(answer).toMatchObject({ standing: 'incomplete', isClean: false });
    expect(answer.findings[0]?.sentence).toContain('no reason is given');
  });

  it('a step that was left out at first and done later is done', () => {
    const [first] = stepsWith('take-apart', { done: false, id: 'left out', observed: { at: at('10:00') } });
    if (!first) throw new Error('no step');
    expect(judge([first, ...allSteps()]).standing).toBe('complete');
  });
});

describe('order', () => {
  it('a step before the one that comes first is out of order', () => {
    const answer = judge(stepsWith('detergent-wash', { observed: { at: at('10:30') } }));
    expect(answer.isClean).toBe(false);
    expect(topics(answer)).toEqual([
      ['order', 'potable-rinse'],
      ['order', 'distilled-rinse'],
      ['order', 'new-bladder'],
      ['order', 'new-tubing'],
      ['order', 'o-rings'],
    ]);
    expect(answer.findings[0]?.sentence).toBe(
      'The step "potable rinse" was done at 10:04, before "detergent wash" at 10:30, which comes first, and not again after it.',
    );
  });

  it('with a reason it is a deviation', () => {
    const steps = stepsWith('o-rings', { observed: { at: at('10:01') }, reason: 'Looked at them first.' });
    expect(judge(steps)).toMatchObject({ standing: 'complete-with-deviation', isClean: true });
  });

  it('a step that was done again in order is in order', () => {
    const early = allSteps().find(({ step }) => step === 'distilled-rinse');
    if (!early) throw new Error('no step');
    const again = { ...early, id: 'too early', observed: { at: at('10:01') } };
    expect(judge([again, ...allSteps()]).standing).toBe('complete');
  });

  it('all written at one minute, nobody can tell it, and it is in order', () => {
    expect(judge(allSteps().map((one) => ({ ...one, observed: { at: at('10:30') } }))).standing).toBe('complete');
  });

  it('offsets are counted: 09:30 an hour further west is later than 10:05', () => {
    const steps = stepsWith('wrap-and-label', undefined).map((one) =>
      one.step === 'o-rings' ? { ...one, observed: { at: '2026-05-04T09:30:00-06:00' } } : one,
    );
    expect(judge(steps).standing).toBe('complete');
  });
});

describe('new parts', () => {
  it('may be put in by a change of parts that is recorded for itself, and until the next use', () => {
    const without = stepsWith('new-tubing', undefined);
    const late = [change('tubing 9', 'installed', '13:00', { well: 'MW-5' })];
    expect(judge(without, { partChanges: [change('tubing 9', 'installed', '10:20')] }).standing).toBe('complete');
    expect(judge(without, { partChanges: late }).isClean).toBe(false);
    expect(judge(without, { partChanges: late, nextUse: at('13:05') }).standing).toBe('complete');
    expect(judge(without, { partChanges: late, nextUse: at('12:00') }).isClean).toBe(false);
  });

  it('of another unit, another type or unknown do not count', () => {
    const without = stepsWith('new-tubing', undefined);
    expect(
      judge(without, { partChanges: [change('tubing 9', 'installed', '10:20', { unit: 'pump 3' })] }).isClean,
    ).toBe(false);
    expect(judge(without, { partChanges: [change('bladder 8', 'installed', '10:20')] }).isClean).toBe(false);
    expect(judge(stepsWith('new-tubing', { part: 'bladder 7' })).findings[0]?.sentence).toBe(
      'For "new tubing" a part of type bladder is named, not a tubing.',
    );
  });

  it('what was in use before, or came out during the cleaning, is not new', () => {
    const before = [change('bladder 7', 'installed', '08:00')];
    expect(judge(allSteps(), { partChanges: before }).findings[0]?.sentence).toBe(
      'The bladder Bladder 7 was in use before: it is not new.',
    );
    expect(judge(allSteps(), { partChanges: [change('bladder 7', 'removed', '10:01')] }).isClean).toBe(false);
    expect(judge(allSteps(), { partChanges: [change('bladder 7', 'installed', '10:07')] }).isClean).toBe(true);
    // another unit's bladder is no newer for that
    const elsewhere = [change('bladder 7', 'installed', '08:00', { unit: 'pump 3' })];
    expect(judge(allSteps(), { partChanges: elsewhere }).isClean).toBe(false);
  });

  it('a part that was put in and thrown away again is not in', () => {
    const torn = [change('bladder 7', 'discarded', '10:30')];
    expect(judge(allSteps(), { partChanges: torn }).findings[0]?.sentence).toContain('no new bladder was put in');
    const other = [...torn, change('bladder 8', 'installed', '10:31')];
    const parts = [...PARTS, { id: 'bladder 8', type: 'bladder' }];
    expect(judge(allSteps(), { partChanges: other, parts }).standing).toBe('complete');
  });

  it('coming out again at the next cleaning undoes nothing, nor does what was written at one minute', () => {
    expect(judge(allSteps(), { partChanges: [change('bladder 7', 'discarded', '15:00')] }).standing).toBe('complete');
    const used = { partChanges: [change('bladder 7', 'discarded', '15:00')], nextUse: at('13:00') };
    expect(judge(allSteps(), used).standing).toBe('complete');
    const minute =
      allSteps()
        .find(({ step }) => step === 'new-bladder')
        ?.observed.at.slice(11, 16) ?? '';
    expect(judge(allSteps(), { partChanges: [change('bladder 7', 'removed', minute)] }).standing).toBe('complete');
  });

  it('tubing that is kept for its well may go back into that well, and into no other', () => {
    const kept = change('tubing 9', 'kept-for-well', '09:00', { well: 'MW-5' });
    const back = (well: string) => ({ partChanges: [kept, change('tubing 9', 'installed', '10:20', { well })] });
    expect(judge(allSteps(), back('MW-5')).standing).toBe('complete');
    expect(judge(allSteps(), back('MW-6')).isClean).toBe(false);
  });

  it('that went in twice are judged alike in either order of arrival', () => {
    const kept = change('tubing 9', 'kept-for-well', '09:00', { well: 'MW-5' });
    const [here, there] = ['MW-5', 'MW-6'].map((well) =>
      change('tubing 9', 'installed', '10:20', { well, id: `into ${well}` }),
    );
    if (!here || !there) throw new Error('no change');
    const answers = [
      [kept, here, there],
      [kept, there, here],
    ].map((partChanges) => judge(allSteps(), { partChanges }));
    expect(answers[0]).toEqual(answers[1]);
    expect(answers[0]?.isClean).toBe(false);
  });

  it('that are not named leave the record open and the unit clean', () => {
    const answer = judge(stepsWith('new-bladder', { part: null }));
    expect(answer).toMatchObject({ standing: 'incomplete', isClean: true });
    expect(answer.findings[0]?.sentence).toBe('Which new bladder was put in is not named.');
    expect(judge(stepsWith('new-bladder', { part: null, lot: 'B-100' })).standing).toBe('complete');
  });

  it('lots are asked for where the plan does', () => {
    const answer = judge(allSteps(), { lotsRequired: ['bladder', 'tubing'] });
    expect(topics(answer)).toEqual([['lot', 'new-tubing']]);
    expect(answer).toMatchObject({ standing: 'incomplete', isClean: true });
    expect(topics(judge(allSteps(), { lotsRequired: ['fluid'] }))).toHaveLength(4);
  });
});

describe('fluids', () => {
  const done = (fluid: string | null, reason?: string) => judge(stepsWith('distilled-rinse', { fluid, reason }));

  it('another fluid than the protocol asks for is said; a purer water is none', () => {
    expect(done('tap water').findings[0]?.sentence).toBe(
      'The step "distilled rinse" was done with tap water; the protocol asks for distilled water.',
    );
    expect(done('tap water').isClean).toBe(false);
    expect(done('DI water').standing).toBe('complete');
    expect(done('lab-certified organic-free water').standing).toBe('complete');
    expect(done('tap water', 'No distilled water left.').standing).toBe('complete-with-deviation');
  });

  it('one whose words say nothing here is not judged, and none at all leaves the record open', () => {
    expect(done('water from the blue jug').standing).toBe('complete');
    expect(done(null)).toMatchObject({ standing: 'incomplete', isClean: true });
  });

  it('deionized water alone is not water free of PFAS', () => {
    const decon = { ...DECON, protocol: 'pfas-free-rinse' };
    const steps = allSteps('pfas-free-rinse').map((one) =>
      one.step === 'pfas-free-rinse' ? { ...one, fluid: 'deionized water' } : one,
    );
    expect(topics(judge(steps, { decon }))).toEqual([['fluid', 'pfas-free-rinse']]);
  });
});

describe('the rest of the record', () => {
  it('its water goes into a drum; a dry wipe leaves none', () => {
    const answer = judge(allSteps(), { decon: { ...DECON, wasteTo: null } });
    expect(topics(answer)).toEqual([['waste', null]]);
    expect(answer).toMatchObject({ standing: 'incomplete', isClean: true });
    const tape = { ...DECON, protocol: 'tape-wipe-down', wasteTo: null };
    const steps = allSteps('tape-wipe-down');
    expect(judge(steps, { decon: tape, unitType: 'water-level-tape' }).standing).toBe('complete');
  });

  it('it does not end before it began', () => {
    const answer = judge(allSteps(), { decon: { ...DECON, ended: at('09:59') } });
    expect(topics(answer)).toContainEqual(['time', null]);
    expect(answer.standing).toBe('incomplete');
  });

  it('it is under way until it has ended, and the unit is not clean', () => {
    const open = { decon: { ...DECON, ended: null } };
    expect(judge(allSteps(), open)).toMatchObject({ standing: 'under-way', isClean: false });
    expect(judge(allSteps(), open).sentence).toContain('every step is recorded, the end is not');
    expect(judge([], open).sentence).toContain('8 still open');
  });

  it('steps outside its time, of no protocol or of another cleaning are said or do no harm', () => {
    const first = allSteps()[0];
    if (!first) throw new Error('no step');
    const strange = { ...first, id: 'x', step: 'polish' };
    const foreign = { ...first, id: 'y', decon: 'decon 2', observed: { at: at('15:00') } };
    expect(judge([...allSteps(), strange, foreign])).toMatchObject({ standing: 'complete' });
    expect(judge([...allSteps(), strange]).cautions).toContain(
      '"polish" is no step of this protocol and is not counted.',
    );
    expect(judge(stepsWith('take-apart', { observed: { at: at('09:00') } })).cautions).toContain(
      'A step is recorded for before the beginning or after the end: look at the clocks.',
    );
  });

  it('what the protocol does not serve against is still owed', () => {
    const answer = judge(allSteps(), { decon: { ...DECON, against: ['pfas', 'organics'] } });
    expect(answer).toMatchObject({ standing: 'complete', notServed: ['pfas'] });
    expect(answer.cautions).toContain('The protocol does not serve against PFAS: another cleaning is owed.');
  });

  it('a protocol that is not made for the unit does not make it clean', () => {
    const tape = judge(allSteps(), { unitType: 'water-level-tape' });
    expect(tape).toMatchObject({ standing: 'incomplete', isClean: false });
    expect(tape.findings[0]).toMatchObject({
      topic: 'gear',
      step: null,
      concerns: 'cleaning',
      sentence: 'The protocol is not made for a tape or probe.',
    });
    for (const protocol of ['meter-rinse', 'tape-wipe-down', 'hand-gear-wash']) {
      const answer = judge(allSteps(protocol), { decon: { ...DECON, protocol } });
      expect([protocol, answer.isClean, topics(answer)]).toEqual([protocol, false, [['gear', null]]]);
    }
  });

  it('of a unit whose type does not say how it touches water, any protocol may be meant', () => {
    const decon = { ...DECON, protocol: 'pump-flush' };
    expect(judge(allSteps('pump-flush'), { decon, unitType: 'other' })).toMatchObject({ isClean: true });
  });

  it('by a protocol that is not in the catalog nothing can be told', () => {
    const decon = { ...DECON, protocol: 'as we always do' };
    expect(deconCompleteness({ decon, unitType: 'bladder-pump', steps: allSteps() })).toMatchObject({
      standing: 'cannot-tell',
      isClean: false,
    });
  });
});

// procedure 10.0, Colorado state file, doc 861949, page 36: after the solvent the tape must be rinsed thoroughly
describe('steps of an occasion', () => {
  const tape = { decon: { ...DECON, protocol: 'tape-wipe-down' }, unitType: 'water-level-tape' } as const;
  const solvent = { id: 's', decon: DECON.id, step: 'solvent-wipe', done: true, fluid: 'isopropanol' };

  it('are due together: no solvent on a tape without its rinse', () => {
    const steps = [...allSteps('tape-wipe-down'), { ...solvent, observed: { at: at('10:02') } }];
    expect(topics(judge(steps, tape))).toEqual([['step', 'rinse-after-solvent']]);
    const rinse = {
      ...solvent,
      id: 'r',
      step: 'rinse-after-solvent',
      fluid: 'DI water',
      observed: { at: at('10:03') },
    };
    expect(judge([...steps, rinse], tape).standing).toBe('complete');
  });
});
