import { beforeEach, describe, expect, it } from 'vitest';
import type { Captured } from '../../../src/client/capture.ts';
import { deconStanding, deconToDo } from '../../../src/client/equipment/decon-here.ts';
import { equipmentHere } from '../../../src/client/equipment/equipment-here.ts';
import { equipmentQuestions } from '../../../src/client/equipment/equipment-questions.ts';
import { mayGoDownHere } from '../../../src/client/equipment/may-go-down-here.ts';
import { checkHere, meterHere } from '../../../src/client/equipment/meter-here.ts';
import { unitHere } from '../../../src/client/equipment/unit-here.ts';
import { timelineHere, unitsOfCrew } from '../../../src/client/equipment/units-here.ts';
import { EquippedPhone } from './equipped-phone.ts';

let here: EquippedPhone;

beforeEach(async () => {
  here = await new EquippedPhone().open({ calibration: { set: 'usgs-field-manual' } });
});

const look = () => equipmentHere(here.phone);
const stateOf = async (unit: string) => unitHere(await look(), unit);

async function codes(captured: Captured) {
  const asked = await equipmentQuestions(here.phone, captured);
  const of = (list: readonly { readonly code: string }[] | undefined) => (list ?? []).map(({ code }) => code);
  return { now: of(asked?.now), later: of(asked?.later), cleared: of(asked?.cleared), parts: asked?.parts ?? [] };
}

describe('where a unit stands, by what is on the phone', () => {
  it('follows the own unsent work through a day, and says that it is ahead of the server', async () => {
    const { pump, dirty } = here.ids;
    expect((await stateOf(pump)).state?.state).toBe('unknown');
    await here.pumpFlush();
    expect(await stateOf(pump)).toMatchObject({ state: { state: 'clean' }, standing: 'ahead', goesBy: 'here' });
    const visit = await here.visit(dirty);
    await here.setUp(visit);
    expect((await stateOf(pump)).state).toMatchObject({ state: 'in-a-well', well: dirty });
    await here.leave(visit);
    expect((await stateOf(pump)).state?.sentence).toContain('Pump A was used at W-1');
    const { entries, limits } = timelineHere(await look(), pump);
    expect(entries.map(({ what }) => what)).toEqual(['decon', 'contact']);
    expect(limits.map(({ what }) => what)).toEqual(['clock', 'other-events']);
  });

  it('goes by the word of the server where that rests on a record that is not here and is the later one', async () => {
    const { pump } = here.ids;
    await here.pumpFlush();
    const said = { unit: pump, state: 'used', becauseKind: 'pump-set-up', sentence: 'Pump A was used at X-9.' };
    const elsewhere = '01890000-0000-7000-8000-000000000001';
    here.clock.pass(3_600_000);
    await here.pulled('firm', 'unit-state', { ...said, since: here.clock.wall(), becauseRecord: elsewhere });
    const known = await stateOf(pump);
    expect(known).toMatchObject({ standing: 'server-knows-more', goesBy: 'server', here: { state: 'clean' } });
    expect(known.sentence).toContain('an event that it does not follow');
    const may = mayGoDownHere(await look(), { unit: pump, well: here.ids.clean, event: here.ids.event });
    expect(may?.answer).toBe('no');
    expect(may?.wellsBehind).toEqual([]);
    expect(may?.limits.map(({ what }) => what)).toContain('server-knows-more');
    // cleaned here since: the later of the two words counts
    await here.pumpFlush();
    expect(await stateOf(pump)).toMatchObject({ standing: 'server-knows-more', goesBy: 'here' });
  });

  it('says so where the server said otherwise of the same records, and goes by its word', async () => {
    const { pump } = here.ids;
    const own = { unit: pump, becauseRecord: pump, becauseKind: 'unit', state: 'clean', sentence: 'Clean.' };
    await here.pulled('firm', 'unit-state', own);
    expect(await stateOf(pump)).toMatchObject({ standing: 'differs', goesBy: 'server', state: { state: 'clean' } });
  });
});

describe('who has a unit', () => {
  const signOut = async (unit: string, crew: string) => {
    here.clock.pass(60_000);
    const observed = await here.phone.observed();
    return here.phone.record('sign-out', { unit, crew, from: here.clock.wall(), observed });
  };
  const labels = async (crew: string) => unitsOfCrew(await look(), crew).map(({ unit }) => unit.fields.label);

  it('is told by sign-outs without an end; a return ends both records of one hand-over', async () => {
    const { pump, meter, north, south } = here.ids;
    const first = await signOut(pump, north);
    await signOut(meter, north);
    expect(await labels(north)).toEqual(['Meter A', 'Pump A']);
    await here.phone.amend('sign-out', first.id, { until: here.clock.wall() });
    // both sides wrote down that the other crew has it now
    await signOut(pump, south);
    const second = await signOut(pump, south);
    expect([await labels(north), await labels(south)]).toEqual([['Meter A'], ['Pump A']]);
    here.clock.pass(60_000);
    await here.phone.amend('sign-out', second.id, { until: here.clock.wall() });
    expect(await labels(south)).toEqual([]);
  });
});

describe('may it go down, and what cleans it', () => {
  it('no after another well, with the protocol, the wells behind it and what is not known; yes once it is clean', async () => {
    const { pump, dirty, clean, event } = here.ids;
    const visit = await here.visit(dirty);
    await here.setUp(visit);
    await here.leave(visit);
    const asked = { unit: pump, well: clean, event, suites: ['VOC'] };
    const no = mayGoDownHere(await look(), asked);
    expect(no).toMatchObject({
      answer: 'no',
      isRinsateProposed: true,
      wellsBehind: [dirty],
      decon: { effort: 'full' },
    });
    expect(no?.sentence).toContain('was used in W-1');
    const todo = deconToDo(await look(), asked);
    expect(todo?.protocol?.id).toBe('bladder-pump-new-parts');
    expect(todo?.steps.map(({ step }) => step)).toContain('new-bladder');
    await here.pumpFlush();
    expect(mayGoDownHere(await look(), asked)).toMatchObject({ answer: 'yes', isRinsateProposed: false });
    expect(mayGoDownHere(await look(), { unit: visit })).toBeNull();
  });

  it('goes on with a decon that was begun, at the step that is not recorded, and says what it lacks', async () => {
    const { pump, event } = here.ids;
    const observed = await here.phone.observed();
    const began = here.clock.wall();
    const { id } = await here.phone.record('decon', { unit: pump, protocol: 'pump-flush', event, began, observed });
    await here.phone.record('decon-step', { decon: id, step: 'tubing', done: true, observed });
    const todo = deconToDo(await look(), { unit: pump, event });
    expect(todo?.open?.id).toBe(id);
    expect(todo?.steps.map(({ step }) => step)[0]).toBe('outside-flush');
    expect(deconToDo(await look(), { unit: pump, event }, 'bladder-pump-new-parts')?.open).toBeNull();
    expect(deconStanding(await look(), id)?.isClean).toBe(false);
    expect(deconStanding(await look(), pump)).toBeNull();
    const whole = await here.pumpFlush();
    expect(deconStanding(await look(), whole)).toMatchObject({ standing: 'complete', isClean: true });
    const part = await here.pumpFlush(pump, ['detergent-flush']);
    const lacks = deconStanding(await look(), part)?.findings.map(({ sentence }) => sentence);
    expect(lacks).toEqual([expect.stringContaining('"detergent flush" is not recorded')]);
  });
});

describe('questions that a capture raises at once', () => {
  it('a used pump in another well is asked about, and a decon that is written down later answers it', async () => {
    const { dirty, clean } = here.ids;
    await here.pumpFlush();
    const first = await here.visit(dirty);
    expect(await codes(await here.setUp(first))).toMatchObject({ now: [] });
    await here.leave(first);
    const second = await here.visit(clean);
    const slip = await here.setUp(second);
    expect((await codes(slip)).now).toContain('used-unit-into-well');
    const wrong = await here.phone.voidRecord('pump-set-up', slip.id, 'another pump');
    expect((await codes(wrong)).cleared).toContain('used-unit-into-well');
  });

  it('a decon whose step is missing is asked about at the next well', async () => {
    const { dirty, clean, pump } = here.ids;
    await here.pumpFlush();
    const first = await here.visit(dirty);
    await here.setUp(first);
    await here.leave(first);
    await here.pumpFlush(pump, ['second-water']);
    const second = await here.visit(clean);
    expect((await codes(await here.setUp(second))).now).toEqual(['decon-incomplete-at-next-use']);
  });

  it('a discarded part that is installed again is asked about while it is in the hand', async () => {
    const { pump, dirty } = here.ids;
    const part = (await here.phone.record('part', { type: 'bladder', label: 'B-7' })).id;
    const change = async (action: string) => {
      here.clock.pass(120_000);
      const observed = await here.phone.observed();
      return here.phone.record('part-change', { unit: pump, part, action, observed });
    };
    expect((await codes(await change('installed'))).parts).toEqual([]);
    const visit = await here.visit(dirty);
    await here.setUp(visit);
    await here.leave(visit);
    await change('removed');
    expect((await codes(await change('installed'))).parts).toEqual([expect.stringContaining('it is not new')]);
    await change('discarded');
    expect((await codes(await change('installed'))).parts).toEqual([expect.stringContaining('was discarded on')]);
  });

  it('asks nothing of records that bear on no equipment, nor of further readings of one meter at one well', async () => {
    const { meter, dirty } = here.ids;
    const visit = await here.visit(dirty);
    const purge = await here.phone.record('purge', { visit, began: here.clock.wall() });
    expect(await equipmentQuestions(here.phone, purge)).toBeNull();
    const observed = await here.phone.observed();
    const reading = () => here.phone.record('reading', { purge: purge.id, ph: '7.10', meter, observed });
    expect(await equipmentQuestions(here.phone, await reading())).not.toBeNull();
    expect(await equipmentQuestions(here.phone, await reading())).toBeNull();
  });
});

describe('may this meter be used now', () => {
  const asked = () => ({
    meter: here.ids.meter,
    event: here.ids.event,
    now: here.clock.wall(),
    parameter: 'ph' as const,
  });
  const check = async (reading: string) => {
    here.clock.pass(60_000);
    const standard = { parameter: 'ph', act: 'checked', part: 'start', buffer: 'technical-700', temperatureC: '20.0' };
    return here.phone.record('calibration-check', {
      unit: here.ids.meter,
      ...standard,
      reading,
      observed: await here.phone.observed(),
    });
  };

  it.each([3, -3])('yes after one that passes, though the clock of the phone is %s h off', async (hours) => {
    await here.clockIsOffBy(hours * 3_600_000);
    await check('7.02');
    const [sensor] = meterHere(await look(), asked())?.sensors ?? [];
    expect([sensor?.usable, sensor?.cautions]).toEqual([true, []]);
    here.clock.pass(23 * 3_600_000);
    expect(meterHere(await look(), asked())?.usable).toBe(true);
    here.clock.pass(2 * 3_600_000);
    expect(meterHere(await look(), asked())?.usable).toBe(false);
  });

  it('no without a check, yes after one that passes, no a day later, and nothing where the plan names no limits', async () => {
    expect(meterHere(await look(), asked())?.usable).toBe(false);
    const passed = await check('7.02');
    expect(checkHere(await look(), passed.id, here.ids.event)?.outcome).toBe('pass');
    expect(meterHere(await look(), asked())?.usable).toBe(true);
    here.clock.pass(90_000_000);
    expect(meterHere(await look(), asked())?.usable).toBe(false);
    const failed = await check('7.90');
    expect(checkHere(await look(), failed.id, here.ids.event)?.outcome).toBe('fail');
    here = await new EquippedPhone().open();
    expect(meterHere(await look(), asked())).toMatchObject({ usable: null });
    expect(meterHere(await look(), { ...asked(), meter: here.ids.dirty })).toBeNull();
  });
});
