import { describe, expect, it } from 'vitest';
import { CUSTODY_FLAG_RULES } from '../../../src/rules/custody/custody-findings.ts';
import { PACKING_RULES } from '../../../src/rules/shipping/packing-rules.ts';
import { packingTold } from '../../../src/rules/shipping/packing-told.ts';
import { idOf, SamplesWorld } from '../samples/samples-world.ts';

const FRIDAY = '2026-05-08T15:30:00-05:00';
const observed = (at: string) => ({ at, entered: at, captured: 'same-day', readBy: 'ann', writtenBy: 'ann' });

function packed(cooler: object = {}, sampling: Readonly<Record<string, unknown>> = {}): SamplesWorld {
  return new SamplesWorld('America/Chicago', sampling)
    .laboratory()
    .add('cooler', 'c-1', { event: 'event-1', number: 'C1', laboratory: 'lab-1', ice: '10 kg', ...cooler })
    .add('seal', 's-1', { cooler: 'c-1', number: '1', applied: FRIDAY, observed: observed(FRIDAY) });
}

/** With blanks for everything. */
function blanks(of: SamplesWorld): SamplesWorld {
  for (const type of ['trip', 'temperature']) {
    of.add('blank', `b-${type}`, { event: 'event-1', type, number: type, collected: FRIDAY, suites: [] });
    of.bottle(`B-${type}`, 'volatiles', { blank: `b-${type}`, cooler: 'c-1', preservatives: ['hydrochloric-acid'] });
  }
  return of;
}

const said = (of: SamplesWorld, at = FRIDAY) => packingTold(of.samples(), idOf('c-1'), { now: at })?.says ?? [];
const codes = (of: SamplesWorld, at = FRIDAY) => said(of, at).map(({ code }) => code);

describe('what is said at packing', () => {
  it('is that nitrate of Friday 15:30 comes in on Monday 09:00, 65.5 h later, and has 48 h', () => {
    const of = blanks(packed()).bottle('N-1', 'nitrate', { cooler: 'c-1' }).fill('N-1', FRIDAY);
    const [first, ...more] = said(of);
    expect(more).toEqual([]);
    expect(first).toMatchObject({ code: 'misses-a-clock', severity: 'stop', verified: false });
    expect(first?.sentence).toContain('65.5 h after it was collected; its limit to analysis is 48 h');
  });

  it('is nothing of a cooler in order', () => {
    expect(said(blanks(packed()))).toEqual([]);
    const told = packingTold(blanks(packed()).samples(), idOf('c-1'), { now: FRIDAY });
    expect(told?.groups).toEqual([
      { group: 'volatiles', title: 'Volatile organic compounds, acidified', containers: 2 },
    ]);
    const shared = packed().bottle('M-1', 'metals-total', { cooler: 'c-1', alsoGroups: ['hardness'] });
    const counts = packingTold(shared.samples(), idOf('c-1'), { now: FRIDAY })?.groups;
    expect(counts?.map(({ group, containers }) => [group, containers])).toEqual([
      ['hardness', 1],
      ['metals-total', 1],
    ]);
    expect(packingTold(packed().samples(), idOf('c-2'), { now: FRIDAY })).toBeNull();
  });

  it.each([
    [
      'trip-blank-missing',
      packed().bottle('V-1', 'volatiles', { cooler: 'c-1' }).fill('V-1', FRIDAY),
      blanks(packed()).bottle('V-1', 'volatiles', { cooler: 'c-1' }).fill('V-1', FRIDAY),
    ],
    [
      'trip-blank-missing',
      packed({}, { tripBlankSuites: ['x'] })
        .bottle('V-1', 'nitrate', { cooler: 'c-1', suite: 'x' })
        .suite('x', [{ group: 'nitrate' }]),
      packed({}, { tripBlankSuites: [] }).bottle('V-1', 'volatiles', { cooler: 'c-1' }),
    ],
    [
      'container-of-another-event',
      packed().bottle('M-1', 'metals-total', { cooler: 'c-1', event: 'event-2' }),
      packed().bottle('M-1', 'metals-total', { cooler: 'c-1' }),
    ],
    [
      'temperature-blank-missing',
      packed().bottle('N-1', 'nitrate', { cooler: 'c-1' }),
      packed({}, { temperatureBlankPerCooler: false }).bottle('N-1', 'nitrate', { cooler: 'c-1' }),
    ],
    [
      'packed-without-ice',
      packed({ ice: undefined }).bottle('M-1', 'metals-total', { cooler: 'c-1', alsoGroups: ['nitrate'] }),
      packed({ ice: undefined }).bottle('M-1', 'metals-total', { cooler: 'c-1', alsoGroups: ['metals-dissolved'] }),
    ],
    [
      'trip-blank-missing',
      packed({}, { tripBlankSuites: ['x'] })
        .suite('x', [{ group: 'nitrate' }])
        .suite('y', [{ group: 'chloride' }])
        .sampled('W', ['y', 'x'], FRIDAY)
        .bottle('N-1', 'chloride', { cooler: 'c-1', alsoGroups: ['nitrate'], suite: 'y', sample: 'sample-W' }),
      packed({}, { tripBlankSuites: ['x'] })
        .suite('x', [{ group: 'nitrate' }])
        .suite('y', [{ group: 'chloride' }])
        .sampled('W', ['y', 'x'], FRIDAY)
        .bottle('N-1', 'chloride', { cooler: 'c-1', suite: 'y', sample: 'sample-W' }),
    ],
    [
      'packed-without-ice',
      packed({ ice: undefined }).bottle('N-1', 'nitrate', { cooler: 'c-1' }),
      packed({ ice: undefined }).bottle('M-1', 'metals-total', { cooler: 'c-1' }),
    ],
    [
      'blind-duplicate-without-time',
      packed()
        .sampled('W', ['n'], FRIDAY, { type: 'blind-duplicate' })
        .bottle('N-1', 'nitrate', { cooler: 'c-1', sample: 'sample-W' }),
      packed()
        .sampled('W', ['n'], FRIDAY, { type: 'blind-duplicate', laboratoryTime: '2026-05-08T15:00:00-05:00' })
        .bottle('N-1', 'nitrate', { cooler: 'c-1', sample: 'sample-W' }),
    ],
    ['packed-without-seal', new SamplesWorld().add('cooler', 'c-1', { event: 'event-1', number: 'C1' }), packed()],
    [
      'packed-without-tracking',
      packed({ carrier: 'a courier' }),
      packed({ carrier: 'a courier', trackingNumber: '7' }),
    ],
    [
      'packed-not-filled',
      packed().bottle('N-1', 'nitrate', { cooler: 'c-1', standing: 'expected' }),
      packed().bottle('N-1', 'nitrate', { cooler: 'c-1' }).fill('N-1', FRIDAY),
    ],
    [
      'cooler-of-another-laboratory',
      packed()
        .laboratory('lab-2')
        .sampled('W', ['n'], FRIDAY, { laboratory: 'lab-2' })
        .bottle('N-1', 'nitrate', { cooler: 'c-1', sample: 'sample-W' }),
      packed()
        .laboratory('lab-2')
        .sampled('W', ['n'], FRIDAY, { laboratory: 'lab-1' })
        .bottle('N-1', 'nitrate', { cooler: 'c-1', sample: 'sample-W' }),
    ],
    [
      'cooler-of-another-laboratory',
      packed()
        .laboratory('lab-2')
        .suite('x', [{ group: 'nitrate', laboratory: 'lab-2' }])
        .bottle('N-1', 'nitrate', { cooler: 'c-1', suite: 'x' }),
      packed()
        .laboratory('lab-2')
        .suite('x', [{ group: 'nitrate', laboratory: 'lab-2' }])
        .sampled('W', ['x'], FRIDAY, { laboratory: 'lab-1' })
        .bottle('N-1', 'nitrate', { cooler: 'c-1', suite: 'x', sample: 'sample-W' }),
    ],
  ])('names %s, and not where it is in order', (code, bad, good) => {
    expect(codes(bad)).toContain(code);
    expect(codes(good)).not.toContain(code);
  });

  it('asks of a cooler that was kept overnight for its ice, temperature, place and seals', () => {
    const kept = () =>
      packed({ packed: FRIDAY }, { temperatureBlankPerCooler: false })
        .bottle('A-1', 'alkalinity', { cooler: 'c-1' })
        .fill('A-1', FRIDAY);
    const morning = '2026-05-09T07:30:00-05:00';
    expect(codes(kept())).not.toContain('kept-tonight-unchecked');
    expect(said(kept(), morning).at(-1)).toMatchObject({
      code: 'kept-tonight-unchecked',
      sentence:
        'It was kept through the night of 2026-05-08, and nobody looked after it: record its temperature, its ice, where it was locked and its seals before it goes.',
    });
    const seen = { cooler: 'c-1', temperatureC: '3.1', place: 'locked in the office', sealsIntact: true };
    const checked = (more: object, looked = '2026-05-09T07:00:00-05:00') =>
      kept().add('cooler-check', 'k-1', { ...seen, ...more, observed: observed(looked) });
    const night = /^(kept|cooler-check)-/;
    const ofNight = (of: SamplesWorld) => codes(of, morning).filter((code) => night.test(code));
    expect(ofNight(checked({ ice: true }))).toEqual([]);
    // the night is looked after from noon to noon
    expect(ofNight(checked({ ice: true }, '2026-05-08T23:30:00-05:00'))).toEqual([]);
    expect(ofNight(checked({}))).toEqual(['cooler-check-incomplete']);
    expect(said(checked({}), morning).at(-1)?.sentence).toBe('It was kept overnight: record its ice before it goes.');
    const gone = { cooler: 'c-1', side: 'relinquished', at: '2026-05-08T18:00:00-05:00', name: 'Ann' };
    expect(ofNight(kept().add('hand-over', 'h-1', gone))).toEqual([]);
    const taken = { cooler: 'c-1', side: 'received', at: '2026-05-08T17:58:00-05:00', name: 'Ben' };
    expect(ofNight(kept().add('hand-over', 'h-1', gone).add('hand-over', 'h-2', taken))).toEqual([
      'kept-tonight-unchecked',
    ]);
    expect(said(checked({ ice: false }), morning).at(-1)?.sentence).toBe(
      'It was kept overnight, and its ice is gone: renew it.',
    );
  });

  it('has a source for every rule', () => {
    const flags = new Map(CUSTODY_FLAG_RULES.map((rule) => [rule.code, rule]));
    for (const { code, severity, said: its } of PACKING_RULES)
      expect([severity, its.source]).toEqual([
        flags.get(code)?.severity ?? severity,
        flags.get(code)?.source ?? its.source,
      ]);
    expect(PACKING_RULES.filter(({ said: { source } }) => source.length < 5)).toEqual([]);
    expect(new Set(PACKING_RULES.map(({ code }) => code)).size).toBe(PACKING_RULES.length);
  });
});
