import { describe, expect, it } from 'vitest';
import { mayGoDownHere } from '../../../src/client/equipment/may-go-down-here.ts';
import { meterHere } from '../../../src/client/equipment/meter-here.ts';
import { equipmentFacts } from '../../../src/rules/equipment/equipment-facts.ts';
import type { EquipmentRecords } from '../../../src/rules/equipment/equipment-records.ts';
import type { Deed, EquipmentVectorGiven } from '../../../src/rules/equipment/faults/equipment-vector.ts';
import { vectorRecords } from '../../../src/rules/equipment/faults/vector-records.ts';
import { EQUIPMENT_RULES, equipmentFindings } from '../../../src/rules/equipment/faults.ts';
import { ENDED_IS_CLEAN } from '../../rules/equipment/equipment-day.ts';
import { hereOfRecords } from './here-of-records.ts';

/** What is asked about a unit because it went down a well as it was. */
const ENTRY_CODES = [
  'decon-incomplete-at-next-use',
  'decon-not-for-class',
  'disposable-used-again',
  'unit-in-two-wells',
  'unit-not-known-clean',
  'unit-out-of-service',
  'used-after-failed-check',
  'used-unit-into-well',
];

const judgeDecon: typeof ENDED_IS_CLEAN = (given) =>
  given.decon.id.endsWith('incomplete') ? { isClean: false, sentence: 'A step is missing.' } : ENDED_IS_CLEAN(given);

function flagsOf(records: EquipmentRecords): readonly string[] {
  return equipmentFindings(equipmentFacts(records, { judgeDecon })).map(
    ({ code, subject, of }) => `${code} ${subject} ${of}`,
  );
}

/** What the phone says of the last deed before it is done, and which flags follow when it is done all the same. */
function beforeAndAfter(given: EquipmentVectorGiven, last: Deed<'at-well'>, rename?: string) {
  const named = (records: EquipmentRecords) => {
    if (rename) for (const { fields } of records.wells) Object.assign(fields, { name: rename });
    return records;
  };
  const all = named(vectorRecords(given));
  const before = named(vectorRecords({ ...given, deeds: given.deeds.filter((deed) => deed !== last) }));
  const wells = [...before.wells, ...all.wells.filter(({ id }) => !before.wells.some((one) => one.id === id))];
  const known = flagsOf(before);
  const flags = flagsOf(all).filter((flag) => !known.includes(flag));
  const { unit, well, suites } = last;
  const may = mayGoDownHere(hereOfRecords({ ...before, wells }, { judgeDecon }), { unit, well, suites: suites ?? [] });
  return { may, flags: flags.filter((flag) => ENTRY_CODES.includes(flag.split(' ')[0] ?? '')) };
}

/** Of a case that ends with a unit going down a well. */
function lastEntry({ deeds }: EquipmentVectorGiven): Deed<'at-well'> | undefined {
  const last = deeds.at(-1);
  if (last?.does !== 'at-well' || (last.how ?? 'down-the-well') !== 'down-the-well') return undefined;
  // while the clocks leave the order open, what comes last is not what was asked about
  return deeds.some((deed) => 'doubtMin' in deed || 'client' in deed) ? undefined : last;
}

const CASES = EQUIPMENT_RULES.filter(({ code }) => ENTRY_CODES.includes(code)).flatMap(({ code, vectors }) =>
  vectors.flatMap(({ name, given }) => {
    const last = lastEntry(given);
    return last ? [{ name: `${code}: ${name}`, given, last }] : [];
  }),
);

describe('may it go down, asked before, and the flags once it went', () => {
  it('are compared in many cases of the rules', () => {
    expect(CASES.length).toBeGreaterThan(20);
  });

  it.each(CASES)('agree: $name', ({ given, last }) => {
    const { may, flags } = beforeAndAfter(given, last);
    if (flags.length > 0) expect([may?.answer, flags]).not.toEqual(['yes', flags]);
    else expect(may?.answer).not.toBe('no');
  });

  const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
  const inB = { does: 'at-well', unit: 'P-1', well: 'B', from: '08:00', until: '09:00' } as const;
  const toA = { does: 'at-well', unit: 'P-1', well: 'A', from: '10:00' } as const;

  it('two wells of one name are two: a used pump is not told to go back into its well', () => {
    const given = { units: { 'P-1': {} }, deeds: [clean, inB, toA] };
    const { may, flags } = beforeAndAfter(given, toA, 'MW-1');
    expect(flags).toEqual(['used-unit-into-well visit 3 P-1']);
    expect(may).toMatchObject({ answer: 'no', isRinsateProposed: true });
    expect(may?.sentence).toContain('was used in MW-1');
    expect(may?.decon.effort).toBe('full');
  });

  it('a dedicated pump that was in another well is cleaned before it goes back to its own', () => {
    const given = { units: { 'P-1': { use: 'dedicated', dedicatedTo: 'A' } }, deeds: [inB, toA] } as const;
    const { may, flags } = beforeAndAfter(given, toA);
    expect(flags).toEqual(['used-unit-into-well visit 2 P-1']);
    expect(may).toMatchObject({ answer: 'no', decon: { effort: 'full' } });
  });

  it('a disposable pump that was used is replaced, and goes on in its first well', () => {
    const given = { units: { 'P-1': { use: 'disposable' } }, deeds: [inB, toA] } as const;
    const { may, flags } = beforeAndAfter(given, toA);
    expect(flags).toEqual(['disposable-used-again visit 2 P-1']);
    expect(may).toMatchObject({ answer: 'no', decon: { effort: 'replace' } });
    const again = { ...toA, well: 'B' };
    expect(beforeAndAfter({ ...given, deeds: [inB, again] }, again)).toMatchObject({
      may: { answer: 'yes' },
      flags: [],
    });
  });

  it('a pump whose last inspection failed, however clean', () => {
    const failed = { does: 'service', unit: 'P-1', type: 'inspected', result: 'fail', at: '07:40' } as const;
    const { may, flags } = beforeAndAfter({ units: { 'P-1': {} }, deeds: [clean, failed, toA] }, toA);
    expect(flags[0]).toContain('used-after-failed-check P-1');
    expect(may?.answer).toBe('no');
    expect(may?.sentence).toContain('P-1 failed its inspection on 2026-05-04');
    const passed = { ...failed, result: 'pass', at: '07:50' } as const;
    const mended = { units: { 'P-1': {} }, deeds: [clean, failed, passed, toA] };
    expect(beforeAndAfter(mended, toA)).toMatchObject({ may: { answer: 'yes' }, flags: [] });
  });

  it('a meter whose last inspection failed may not be used, on the phone as on the server', () => {
    const units = { 'M-1': { type: 'multi-parameter-meter' } } as const;
    const failed = { does: 'service', unit: 'M-1', type: 'inspected', result: 'fail', at: '07:40' } as const;
    const asked = { meter: 'M-1', event: 'event', now: '2026-05-04T09:00:00-05:00' };
    const told = meterHere(hereOfRecords(vectorRecords({ units, deeds: [failed] })), asked);
    expect(told?.usable).toBe(false);
    expect(told?.reasons[0]).toContain('M-1 failed its inspection on 2026-05-04');
    const passed = { ...failed, result: 'pass', at: '07:50' } as const;
    expect(meterHere(hereOfRecords(vectorRecords({ units, deeds: [failed, passed] })), asked)?.usable).toBeNull();
  });

  it('a pump out of a well with PFAS that was flushed as after organics', () => {
    const wells = { B: { contaminants: ['pfas'] } } as const;
    const flush = { ...clean, from: '09:10', until: '09:40' };
    const next = { ...toA, suites: ['PFAS'] };
    const given = { units: { 'P-1': {} }, wells, deeds: [clean, inB, flush, next] };
    const { may, flags } = beforeAndAfter(given, next);
    expect(flags).toEqual(['decon-not-for-class visit 4 P-1']);
    expect(may).toMatchObject({ answer: 'no', wellsBehind: ['B'], decon: { classes: ['pfas'] } });
    expect(may?.sentence).toContain('which does not serve against PFAS');
    const rinse = { ...flush, from: '09:41', until: '09:55', protocol: 'pfas-free-rinse' };
    const served = { ...given, deeds: [clean, inB, flush, rinse, next] };
    expect(beforeAndAfter(served, next)).toMatchObject({ may: { answer: 'yes' }, flags: [] });
  });
});
