import { describe, expect, it } from 'vitest';
import { equipmentIndex } from '../../../src/rules/equipment/equipment-index.ts';
import { samplesBehindBlank } from '../../../src/rules/equipment/samples-behind-blank.ts';
import { Day, ENDED_IS_CLEAN, voided } from './equipment-day.ts';
import { BY_BLANK } from './judge-blank.ts';

const behind = (day: Day, blank: string) =>
  samplesBehindBlank(equipmentIndex(day.lists, ENDED_IS_CLEAN), blank, BY_BLANK);
const listed = (day: Day, blank: string) =>
  behind(day, blank).flatMap(({ samples }) => samples.map(({ sample, standing }) => `${sample} ${standing}`));

/** A pump at four wells, with a rinsate before the third: EB-1 clean, EB-2 as given, EB-3 clean. */
function world(blankValue: string | null = '0.8'): Day {
  const day = new Day();
  day.unit('P-1');
  for (const hour of [8, 10, 12, 14, 16]) {
    const time = (minute: string, plus = 0) => `${String(hour + plus).padStart(2, '0')}:${minute}`;
    day.well(`MW-${hour}`);
    day.pumped(`v${hour}`, `MW-${hour}`, 'P-1', time('00'), time('50'));
    day.sample(`S-${hour}`, `v${hour}`, time('40'));
    day.decon('P-1', time('55'), time('20', 1));
  }
  for (const [number, time, value] of [
    ['EB-1', '09:30', null],
    ['EB-2', '13:30', blankValue],
    ['EB-3', '15:30', null],
  ] as const) {
    day.blank(number, 'P-1', time);
    day.result({ blank: number }, value);
  }
  return day;
}

describe('a rinsate that failed', () => {
  it.each([
    ['not detected', null, 'cleared'],
    ['3.0', '3.0', 'in-question'],
    ['4.0, the limit itself', '4.0', 'in-question'],
    ['4.1', '4.1', 'cleared'],
  ])('at 0.8 µg/L with a limit of five times: a sample of %s is %s', (_, value, standing) => {
    const day = world('0.8');
    day.result({ sample: 'S-10' }, value);
    day.result({ sample: 'S-12' }, value);
    day.result({ sample: 'S-14' }, value);
    expect(listed(day, 'EB-2')).toEqual([`S-10 ${standing}`, `S-12 ${standing}`, `S-14 ${standing}`]);
  });

  it('reaches to the clean blanks on either side and says what it found', () => {
    const day = world();
    for (const [sample, value] of Object.entries({ 'S-8': '1', 'S-10': '1', 'S-12': null, 'S-14': '9', 'S-16': '1' }))
      day.result({ sample }, value);
    expect(behind(day, 'EB-2')).toMatchObject([
      {
        blank: 'EB-2',
        unit: 'P-1',
        analyte: 'tetrachloroethene',
        casNumber: '127-18-4',
        lastClean: 'EB-1',
        nextClean: 'EB-3',
        samples: [
          { sample: 'S-10', standing: 'in-question', well: 'MW-10', through: [{ kind: 'unit', id: 'P-1' }] },
          { sample: 'S-12', standing: 'cleared' },
          { sample: 'S-14', standing: 'cleared' },
        ],
        counts: { inQuestion: 1, cleared: 2, cannotTell: 0 },
        sentence: 'tetrachloroethene was found in EB-2 through P-1: of 3 samples 1 in question, 2 cleared.',
      },
    ]);
    expect(behind(day, 'EB-1')).toEqual([]);
  });

  it('is bounded by no blank that would not have shown what it found', () => {
    const of = (
      reportingLimit: string | null,
      condition: 'not-detected' | 'below-reporting-limit' = 'not-detected',
    ) => {
      const day = new Day();
      day.unit('P-1');
      day.well('MW-1');
      day.decon('P-1', '07:00', '07:30');
      day.pumped('v1', 'MW-1', 'P-1', '08:00', '08:50');
      day.sample('S-1', 'v1', '08:40');
      day.result({ sample: 'S-1' }, '3.0');
      day.blank('EB-1', 'P-1', '10:00');
      day.result({ blank: 'EB-1' }, null, { condition, reportingLimit });
      day.blank('EB-2', 'P-1', '12:00');
      day.result({ blank: 'EB-2' }, '0.8');
      return listed(day, 'EB-2');
    };
    expect(of('0.5')).toEqual([]);
    expect(of('0.8')).toEqual([]);
    for (const limit of ['50', null]) expect(of(limit)).toEqual(['S-1 in-question']);
    expect(of('50', 'below-reporting-limit')).toEqual(['S-1 in-question']);
    expect(of('0.5', 'below-reporting-limit')).toEqual([]);
  });

  it('has no bound where no other blank was clean of that analyte', () => {
    const day = world();
    for (const blank of day.lists.blanks.filter(({ id }) => id !== 'EB-2')) voided(blank);
    expect(listed(day, 'EB-2')).toHaveLength(5);
    const [trail] = behind(day, 'EB-2');
    expect(trail).toMatchObject({ lastClean: null, nextClean: null, counts: { cannotTell: 5 } });
    expect(trail?.samples[0]?.sentence).toBe('No result for tetrachloroethene of S-8 is here yet.');
  });

  it('is judged for each analyte alone: a blank may be clean of one and not of the other', () => {
    const day = world(null);
    const other = { analyte: 'trichloroethene', casNumber: '79-01-6' };
    day.result({ blank: 'EB-2' }, '2.0', other);
    day.result({ blank: 'EB-1' }, '1.0', other);
    day.result({ sample: 'S-8' }, '1.0', other);
    day.result({ sample: 'S-8' }, '1.0');
    const [trail, ...more] = behind(day, 'EB-2');
    expect(more).toEqual([]);
    expect(trail).toMatchObject({ analyte: 'trichloroethene', lastClean: null, nextClean: null });
    expect(trail?.samples.map(({ sample }) => sample)).toEqual(['S-8', 'S-10', 'S-12', 'S-14', 'S-16']);
    expect(trail?.samples[0]).toMatchObject({ standing: 'in-question' });
  });

  it('leaves out what was never asked for it', () => {
    const day = world();
    Object.assign(day.lists.samples.find(({ id }) => id === 'S-12')?.fields ?? {}, { suites: ['metals'] });
    const [trail] = behind(day, 'EB-2');
    expect(trail?.samples.map(({ sample }) => sample)).toEqual(['S-10', 'S-14']);
    expect(trail?.notAsked).toEqual(['S-12']);
  });

  it('takes traces for neither a failure nor a proof that the gear is clean', () => {
    const day = world();
    Object.assign(day.lists.results.find(({ fields }) => fields.blank === 'EB-3')?.fields ?? {}, {
      condition: 'below-reporting-limit',
      value: '0.2',
    });
    expect(behind(day, 'EB-3')).toEqual([]);
    expect(behind(day, 'EB-2')[0]).toMatchObject({ lastClean: 'EB-1', nextClean: null });
  });

  it('follows a soft part that was on the pump to other pumps, and no part that was not', () => {
    const day = world();
    day.unit('P-2');
    day.part('line-1');
    day.part('line-2');
    day.change('P-1', 'line-1', 'installed', '11:30');
    day.change('P-1', 'line-1', 'removed', '15:05');
    day.change('P-2', 'line-1', 'installed', '15:10');
    day.change('P-1', 'line-2', 'installed', '15:40');
    day.well('MW-20');
    day.pumped('v20', 'MW-20', 'P-2', '15:20', '16:20');
    day.sample('S-20', 'v20', '16:10');
    day.pumped('v21', 'MW-20', 'P-2', '17:20', '18:20');
    day.sample('S-21', 'v21', '18:10');
    day.change('P-2', 'line-1', 'discarded', '17:00');
    for (const sample of ['S-20', 'S-21']) day.result({ sample }, '2.0');
    const [trail] = behind(day, 'EB-2');
    expect(trail?.samples.map(({ sample }) => sample)).toEqual(['S-10', 'S-12', 'S-14', 'S-20']);
    expect(trail?.samples.at(-1)).toMatchObject({ standing: 'in-question', through: [{ kind: 'part', id: 'line-1' }] });
    expect(trail?.samples[1]?.through).toEqual([
      { kind: 'unit', id: 'P-1' },
      { kind: 'part', id: 'line-1' },
    ]);
  });

  it('leaves out a sample that another pump of the same visit lifted', () => {
    const day = world();
    day.unit('P-2');
    day.setUp('v12', 'P-2', '12:20');
    expect(listed(day, 'EB-2').map((one) => one.split(' ')[0])).toEqual(['S-10', 'S-14']);
  });

  it('looks at a sample too where the clocks leave open on which side of a clean blank it was taken', () => {
    const day = world();
    const sample = day.sample('S-edge', 'v8', '09:27');
    expect(listed(day, 'EB-2').some((one) => one.startsWith('S-edge'))).toBe(false);
    const clock = { wall: sample.fields.collected, monotonicMs: 0, boot: 'b', sequence: 1, differenceMs: 0 };
    Object.assign(sample, { client: 'phone-2', clock: { ...clock, uncertaintyMs: 3 * 60_000 } });
    expect(listed(day, 'EB-2').some((one) => one.startsWith('S-edge'))).toBe(true);
  });

  it('takes the unit from the decon where the blank names that', () => {
    const day = world();
    const decon = day.lists.decons.find(({ fields }) => fields.began.includes('T12:55'));
    Object.assign(day.lists.blanks.find(({ id }) => id === 'EB-2')?.fields ?? {}, { unit: null, decon: decon?.id });
    expect(listed(day, 'EB-2')).toHaveLength(3);
  });
});

describe('three crews with ten shared units, and one rinsate that failed three weeks later', () => {
  it('has 6 samples in question and 31 cleared, each with its reason', () => {
    const day = new Day();
    const pumps = ['P-1', 'P-2', 'P-3', 'P-4'];
    for (const pump of pumps) day.unit(pump, { type: 'bladder-pump' });
    for (const tape of ['T-1', 'T-2', 'T-3']) day.unit(tape, { type: 'water-level-tape' });
    for (const meter of ['M-1', 'M-2', 'M-3']) day.unit(meter, { type: 'multi-parameter-meter' });
    day.part('line-1');
    day.change('P-1', 'line-1', 'installed', '05-01 07:00');

    // tenths of a microgram: 5 times 8 tenths of the blank is 40, and 40 itself is in question
    const tenths = Array.from({ length: 37 }, (_, at) =>
      at % 6 === 0 && at < 36 ? 10 + at : at % 2 === 0 ? 0 : 41 + at,
    );
    const shouldAsk = tenths.filter((one) => one > 0 && one <= 5 * 8).length;
    const shouldClear = tenths.filter((one) => one === 0 || one > 5 * 8).length;
    expect([shouldAsk, shouldClear]).toEqual([6, 31]);

    const date = (at: number) => `05-${String(2 + Math.floor(at / 4)).padStart(2, '0')}`;
    const time = (at: number, minute: string) => `${date(at)} ${String(8 + (at % 4) * 2).padStart(2, '0')}:${minute}`;
    tenths.forEach((value, at) => {
      day.well(`MW-${at}`);
      day.pumped(`v${at}`, `MW-${at}`, 'P-1', time(at, '00'), time(at, '50'), `crew-${(at % 3) + 1}`);
      day.level(`v${at}`, `T-${(at % 3) + 1}`, time(at, '01'));
      day.reading(`v${at}`, `M-${(at % 3) + 1}`, time(at, '20'));
      day.sample(`S-${at}`, `v${at}`, time(at, '40'));
      day.decon('P-1', time(at, '52'), time(at, '59'));
      day.result({ sample: `S-${at}` }, value === 0 ? null : (value / 10).toFixed(1));
      // at the same hours two other pumps at other wells: none of their samples is asked about
      for (const pump of ['P-2', 'P-3']) {
        const id = `${pump}-${at}`;
        day.well(`MW-${id}`);
        day.pumped(`v-${id}`, `MW-${id}`, pump, time(at, '00'), time(at, '50'), 'crew-2');
        day.sample(`S-${id}`, `v-${id}`, time(at, '40'));
        day.result({ sample: `S-${id}` }, '2.0');
      }
    });
    for (const [number, collected, value] of [
      ['EB-0', '05-01 12:00', null],
      ['EB-1', '05-06 15:55', '0.8'],
      ['EB-2', '05-12 07:00', null],
    ] as const) {
      day.blank(number, 'P-1', collected);
      day.result({ blank: number }, value);
    }
    const [trail] = behind(day, 'EB-1');
    expect(trail?.counts).toEqual({ inQuestion: shouldAsk, cleared: shouldClear, cannotTell: 0 });
    expect(trail?.samples).toHaveLength(37);
    expect(trail?.samples.every(({ sentence }) => sentence.length > 20)).toBe(true);
    const asked = trail?.samples.filter(({ standing }) => standing === 'in-question').map(({ number }) => number);
    expect(asked).toEqual(tenths.flatMap((one, at) => (one > 0 && one <= 40 ? [`S-${at}`] : [])));
  });
});
