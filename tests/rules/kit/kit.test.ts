import { describe, expect, it } from 'vitest';
import { kitFlags } from '../../../src/rules/kit/kit-flags.ts';
import type { KitRecords } from '../../../src/rules/kit/kit-records.ts';
import { askedLines, KIT_RULES } from '../../../src/rules/kit/kit-rules.ts';
import type { KitLine } from '../../../src/rules/kit/kit-standing.ts';
import { kitTold } from '../../../src/rules/kit/kit-told.ts';

const seen = (at: string) => ({ at, entered: at, captured: 'at-the-well' as const, readBy: 'm', writtenBy: 'm' });
const unit = (id: string, type: 'bladder-pump' | 'multi-parameter-meter') => ({
  id,
  fields: { type, label: id, use: 'shared' as const, ownership: 'owned' as const },
});

const records: KitRecords = {
  event: 'event',
  crew: 'crew',
  day: '2026-05-05',
  site: { id: 'site', fields: { name: 'Old Depot', accessNotes: 'Gate code at the office' } },
  plan: { calibration: { set: 'florida-field-testing' }, equipment: { rinsatePer: 'unit-and-day' } },
  assignments: [
    { id: 'a1', fields: { well: 'MW-1', suites: ['VOC', 'metals'] } },
    { id: 'a2', fields: { well: 'MW-2', suites: ['VOC'] } },
    { id: 'a3', fields: { well: 'MW-3', suites: ['VOC'] } },
  ],
  wells: ['MW-3', 'MW-1', 'MW-2'].map((id) => ({ id, fields: { name: id } })),
  visits: [
    {
      id: 'v',
      fields: {
        well: 'MW-3',
        method: 'low-flow',
        outcome: 'sampled',
        left: '2026-05-04T09:00:00-05:00',
      },
    },
  ],
  units: [unit('P-1', 'bladder-pump'), unit('M-1', 'multi-parameter-meter')],
  checks: [],
};

type Items = KitRecords['checks'][number]['fields']['items'];
const checked = (items: Items, at = '2026-05-05T06:30:00-05:00', id = 'check') => ({
  id,
  fields: { event: 'event', crew: 'crew', items, observed: seen(at) },
});

describe('what a crew takes along', () => {
  it('follows from its wells that are still to be done, what is signed out to it and the plan', () => {
    const kit = kitTold(records);
    expect(kit.wells.map(({ name, suites }) => `${name}: ${suites}`)).toEqual(['MW-1: VOC,metals', 'MW-2: VOC']);
    expect(kit.items.map(({ item, expected }) => (expected === null ? item : `${item}: ${expected}`))).toEqual([
      'Bottles for VOC: 2',
      'Bottles for metals: 1',
      'Standard for pH',
      'Standard for Specific conductance',
      'Standard for Dissolved oxygen',
      'Standard for ORP',
      'Water for equipment blanks',
      'Drive gas',
      'Ice',
      'Room in the drum',
      'Keys and gate codes',
    ]);
    expect(kit.accessNotes).toBe('Gate code at the office');
    expect(new Set(kit.items.map(({ standing }) => standing))).toEqual(new Set(['not-looked-at']));
    expect(kit.findings).toEqual([]);
  });

  it.each([
    ['gauging', 'gauged-only', true],
    ['low-flow', 'no-access', true],
    ['low-flow', 'abandoned', true],
    ['low-flow', 'dry', false],
  ] as const)('comes back to a well that is to be sampled after %s, %s: %s', (method, outcome, isToDo) => {
    const visits = records.visits.map(({ id, fields }) => ({ id, fields: { ...fields, method, outcome } }));
    expect(kitTold({ ...records, visits }).wells.some(({ name }) => name === 'MW-3')).toBe(isToDo);
  });

  it('does not come back to a well of which only the level was wanted', () => {
    const visits = records.visits.map(({ id, fields }) => ({
      id,
      fields: { ...fields, method: 'gauging' as const, outcome: 'gauged-only' as const },
    }));
    const assignments = [{ id: 'a', fields: { well: 'MW-3' } }];
    expect(kitTold({ ...records, visits, assignments }).wells).toEqual([]);
  });

  it('goes for the wells that are here where no assignment names one', () => {
    const kit = kitTold({ ...records, assignments: [{ id: 'a', fields: { suites: ['VOC'] } }] });
    expect(kit.wells.map(({ name, suites }) => `${name}: ${suites}`)).toEqual(['MW-1: VOC', 'MW-2: VOC']);
    expect(kit.items[0]).toMatchObject({ item: 'Bottles for VOC', expected: 2 });
    expect(kitTold({ ...records, assignments: [] }).wells).toEqual([]);
  });

  it('needs no gas without a bladder pump, and no ice for metals alone', () => {
    const kit = kitTold({
      ...records,
      units: [],
      assignments: [{ id: 'a', fields: { well: 'MW-1', suites: ['metals'] } }],
    });
    expect(kit.items.map(({ item }) => item)).toEqual([
      'Bottles for metals',
      'Room in the drum',
      'Keys and gate codes',
    ]);
  });
});

describe('what the check of the morning found', () => {
  const items: Items = [
    { item: 'VOC bottles', standing: 'ok', found: 3 },
    { item: 'Bottles for VOC', standing: 'ok', expected: 6, found: 4 },
    { item: 'Buffer pH 7', standing: 'ok', lot: 'B-7', expires: '2026-05-04' },
    { item: 'Ice', standing: 'missing' },
    { item: 'Traffic cones', standing: 'short', expected: 4, found: 2 },
  ];

  it('stands beside what is needed; a count or a date goes before what was ticked', () => {
    const kit = kitTold({ ...records, checks: [checked(items)] });
    const standing = Object.fromEntries(kit.items.map((one) => [one.item, one.standing]));
    expect(standing).toMatchObject({
      'Bottles for VOC': 'short',
      'Buffer pH 7': 'expired',
      Ice: 'missing',
      'Traffic cones': 'short',
      'Drive gas': 'not-looked-at',
    });
    expect(kit.findings.map(({ code, sentence }) => [code, sentence.slice(0, 80)])).toEqual([
      ['kit-item-expired', expect.stringContaining('Past its date: Buffer pH 7 (2026-05-04).')],
      ['kit-item-not-looked-at', expect.stringContaining('says nothing of')],
      ['kit-item-short', expect.stringContaining('Bottles for VOC (4 of 6)')],
    ]);
  });

  it('is that of the last check of that day, whatever the order in which they came', () => {
    const first = checked(items, '2026-05-05T06:00:00-05:00', 'first');
    const last = checked([{ item: 'Ice', standing: 'ok' }], '2026-05-05T06:45:00-05:00', 'last');
    const before = checked(items, '2026-05-04T06:45:00-05:00', 'before');
    for (const checks of [
      [first, last, before],
      [last, before, first],
    ])
      expect(kitTold({ ...records, checks })).toMatchObject({ check: 'last', checkedAt: '2026-05-05T06:45:00-05:00' });
    expect(kitTold({ ...records, checks: [before] }).check).toBeNull();
  });
});

describe('what is stored of the checks of an event', () => {
  const bad: Items = [
    { item: 'Bottles for VOC', standing: 'ok', expected: 6, found: 4 },
    { item: 'Ice', standing: 'missing' },
    { item: 'Buffer pH 7', standing: 'ok', expires: '2026-05-04' },
  ];
  const good: Items = [{ item: 'Bottles for VOC', standing: 'ok', expected: 6, found: 6 }];
  const codes = (...checks: readonly ReturnType<typeof checked>[]) =>
    kitFlags(checks).map(({ rule, subject, addressee }) => `${subject} ${rule} ${addressee}`);

  it('is what a check says by itself, told now, with the lines as evidence', () => {
    expect(codes(checked(bad))).toEqual(['check kit-item-expired now', 'check kit-item-short now']);
    const [, short] = kitFlags([checked(bad)]);
    expect(short?.sentence).toContain('Bottles for VOC (4 of 6) and Ice');
    expect(short?.evidence.map(({ shows }) => shows)).toEqual([
      '{"expected":6,"expires":null,"found":4,"item":"Bottles for VOC"}',
      '{"expected":null,"expires":null,"found":null,"item":"Ice"}',
    ]);
    expect(codes(checked(good))).toEqual([]);
  });

  it('is taken back by a later check of that crew and day, and by no other, in any order', () => {
    const later = checked(good, '2026-05-05T07:10:00-05:00', 'later');
    const next = checked(good, '2026-05-06T06:30:00-05:00', 'next');
    const other = { ...later, id: 'other', fields: { ...later.fields, crew: 'other crew' } };
    for (const order of [
      [checked(bad), later],
      [later, checked(bad)],
    ])
      expect(codes(...order)).toEqual([]);
    for (const order of [
      [checked(bad), next, other],
      [other, next, checked(bad)],
    ])
      expect(codes(...order)).toEqual(['check kit-item-expired now', 'check kit-item-short now']);
  });
});

describe.each(KIT_RULES)('$code', (rule) => {
  it.each(rule.vectors)('$name', ({ lines, expect: says }) => {
    const whole = (lines ?? []).map((line): KitLine => ({ why: null, source: null, lot: null, remark: null, ...line }));
    const its = askedLines(rule, { check: lines === null ? null : checked([]), lines: whole });
    const sentence = its.length === 0 ? null : rule.sentence(its);
    if (says === null) expect(sentence).toBeNull();
    else expect(sentence).toContain(says);
  });
});
