import { describe, expect, it } from 'vitest';
import { mayGoDownHere } from '../../../src/client/equipment/may-go-down-here.ts';
import { equipmentFacts } from '../../../src/rules/equipment/equipment-facts.ts';
import { replayVector } from '../../../src/rules/equipment/faults/replay-vector.ts';
import { vectorRecords } from '../../../src/rules/equipment/faults/vector-records.ts';
import { samplesBehindBlank } from '../../../src/rules/equipment/samples-behind-blank.ts';
import { hereOfRecords } from '../../client/equipment/here-of-records.ts';
import { cleanDay, findingsOf } from './crew-day.ts';
import { at, Day } from './equipment-day.ts';
import { PLANTED } from './planted-faults.ts';

/** US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 8 of 13: before the first well and after every well. */
describe('a pump used at MW-3, then offered to MW-5 without decontamination', () => {
  const deeds = [
    { does: 'decon', unit: 'P2', from: '07:00', until: '07:30' },
    { does: 'at-well', unit: 'P2', well: 'MW-3', from: '08:00', until: '09:00' },
    { does: 'at-well', unit: 'P2', well: 'MW-5', from: '10:00' },
  ] as const;

  it.each([undefined, 'MW-1'])(
    'planning answers no with the reason, and proposes a rinsate, also where both are %s',
    (name) => {
      const records = vectorRecords({ units: { P2: {} }, wells: { 'MW-3': {}, 'MW-5': {} }, deeds: deeds.slice(0, 2) });
      for (const { fields } of records.wells) Object.assign(fields, name ? { name } : {});
      const here = hereOfRecords(records, { judgeDecon: () => ({ isClean: true, sentence: 'Complete.' }) });
      const may = mayGoDownHere(here, { unit: 'P2', well: 'MW-5' });
      expect(may).toMatchObject({
        answer: 'no',
        isRinsateProposed: true,
        wellsBehind: ['MW-3'],
        decon: { effort: 'full' },
      });
      expect(may?.sentence).toContain(`P2 was used in ${name ?? 'MW-3'}, and no complete decontamination is on record`);
      expect(mayGoDownHere(here, { unit: 'P2', well: 'MW-3' })?.answer).toBe('yes');
    },
  );

  it('the record that was made all the same is kept and flagged now', () => {
    const [flag, ...others] = replayVector({ units: { P2: {} }, deeds });
    expect(others).toEqual([]);
    expect(flag).toMatchObject({ code: 'used-unit-into-well', addressee: 'now', unit: 'P2', certainty: 'certain' });
    expect(flag?.sentence).toMatch(/blank/);
  });
});

/** US Department of Defense, Data Validation Guidelines, Modules 1 to 4, revised table A, 9 Feb 2022 (read in a copy). */
describe('an equipment blank at 0.8 µg/L with a limit of five times the blank', () => {
  it('clears a non-detect and 4.1, and puts 3.0 and 4.0 in question', () => {
    const day = new Day();
    day.unit('P-1');
    day.decon('P-1', '06:00', '06:30');
    const found = [null, '3.0', '4.0', '4.1'] as const;
    for (const [place, value] of found.entries()) {
      const hour = String(7 + 2 * place).padStart(2, '0');
      const next = String(8 + 2 * place).padStart(2, '0');
      day.well(`MW-${place}`);
      day.pumped(`v${place}`, `MW-${place}`, 'P-1', `${hour}:00`, `${hour}:50`);
      day.sample(`S-${place}`, `v${place}`, `${hour}:40`);
      day.result({ sample: `S-${place}` }, value);
      day.decon('P-1', `${next}:00`, `${next}:30`);
    }
    const blank = day.blank('EB-1', 'P-1', '16:00');
    day.result({ blank: 'EB-1' }, '0.8');
    expect(blank.fields.collected).toBe(at('16:00'));
    const facts = equipmentFacts(day.lists, { judgeDecon: () => ({ isClean: true, sentence: 'Complete.' }) });
    const [trail] = samplesBehindBlank(facts.index, 'EB-1', facts.judgeOf(blank));
    expect(Object.fromEntries(trail?.samples.map(({ number, standing }) => [number, standing]) ?? [])).toEqual({
      'S-0': 'cleared',
      'S-1': 'in-question',
      'S-2': 'in-question',
      'S-3': 'cleared',
    });
  });
});

/**
 * The ledger of shared gear: cleaned after every well, US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 8 of 13; the
 * rest is common practice, no source. On the day of three crews, with each decon judged step by step.
 */
describe('the ledger of shared gear says by itself', () => {
  it.each([
    ['a used unit opened in a new well', 'used-unit-into-well'],
    ['a soft part that bears fluorine in a well for PFAS', 'fluoropolymer-part-at-pfas-well'],
    ['a rinsate that is missing at the close of the day', 'rinsate-missing'],
    ['a shared pump that went from a dirty well into a clean one', 'dirty-to-clean'],
  ])('%s', (_, code) => {
    const given = cleanDay();
    expect(findingsOf(given, given.day.lists)).toEqual([]);
    PLANTED[code]?.(given);
    expect(findingsOf(given, given.day.lists).map((one) => one.code)).toEqual([code]);
    if (code === 'rinsate-missing') expect(findingsOf(given, given.day.lists, false)).toEqual([]);
  });
});
