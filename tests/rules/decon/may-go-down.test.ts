import { describe, expect, it } from 'vitest';
import { UNIT_STATES } from '../../../src/protocol/kinds/unit-state.ts';
import { type MayGoDownGiven, mayGoDown } from '../../../src/rules/decon/may-go-down.ts';

const ask = (more: Partial<MayGoDownGiven> = {}) =>
  mayGoDown({ unit: 'Pump P2', state: 'used', wellLeft: 'MW-3', wellNext: 'MW-5', isNothingOwed: false, ...more });

describe('may it go into the next well', () => {
  it('a pump used in one well and offered to another without decontamination: no, with the reason; a rinsate is proposed', () => {
    expect(ask()).toEqual({
      answer: 'no',
      sentence:
        'No. Pump P2 was used in MW-3, and no complete decontamination is on record since: clean it before it goes into MW-5. Where it goes in nevertheless, the record is kept and flagged at once, and a rinsate through it is proposed.',
      isRinsateProposed: true,
    });
  });

  it.each([
    ['clean', 'yes', false],
    ['used', 'no', true],
    ['being-cleaned', 'no', true],
    ['out-of-service', 'no', true],
    ['in-a-well', 'no', true],
    ['unknown', 'cannot-tell', true],
  ] as const)('the ledger of shared units: from the state %s: %s', (state, answer, isRinsateProposed) => {
    expect(ask({ state })).toMatchObject({ answer, isRinsateProposed });
  });

  it('a unit that is in this well already may stay', () => {
    expect(ask({ state: 'in-a-well', wellNext: 'MW-3' }).answer).toBe('yes');
    expect(ask({ state: 'in-a-well', wellLeft: null }).answer).toBe('cannot-tell');
  });

  it('what owes no cleaning may go in used, but not out of service', () => {
    expect(ask({ isNothingOwed: true }).answer).toBe('yes');
    expect(ask({ isNothingOwed: true, state: 'out-of-service' }).answer).toBe('no');
  });

  it('two wells of one name are two', () => {
    const named = () => 'MW-1';
    const ids = { wellLeft: 'id of one', wellNext: 'id of another', named };
    expect(ask({ ...ids, state: 'in-a-well' })).toMatchObject({ answer: 'no' });
    expect(ask({ ...ids, isNeverMoved: true, state: 'clean' }).answer).toBe('no');
    expect(ask(ids).sentence).toContain('was used in MW-1');
  });

  it('what speaks against it does so however clean it is', () => {
    for (const state of ['clean', 'used', 'unknown'] as const) {
      const answer = ask({ state, isNothingOwed: true, against: 'Pump P2 failed its inspection.' });
      expect(answer.answer).toBe('no');
      expect(answer.sentence).toContain('No. Pump P2 failed its inspection.');
    }
  });

  it('tubing is not moved between wells, however clean (study of tubing, osti.gov/biblio/290211)', () => {
    expect(ask({ isNeverMoved: true, state: 'clean' })).toMatchObject({ answer: 'no' });
    expect(ask({ isNeverMoved: true, state: 'clean', wellLeft: null }).answer).toBe('yes');
  });

  it.each(UNIT_STATES)('from %s it says so in a sentence, with or without names of wells', (state) => {
    for (const more of [{}, { wellLeft: null, wellNext: null }]) {
      expect(ask({ state, unit: 'this bladder pump', ...more }).sentence).toMatch(/^[A-Z].*his bladder pump.*\.$/);
      expect(ask({ state, ...more }).sentence).not.toMatch(/null|undefined/);
    }
  });
});
