import { describe, expect, it } from 'vitest';
import type { ContaminantClass } from '../../../src/catalog/decon/decon-protocol.ts';
import type { DeconUnit, WellNext } from '../../../src/rules/decon/decon-unit.ts';
import { deconEffort } from '../../../src/rules/decon/effort.ts';
import { DECON_UNIT_TYPES, gearOfUnit, waterContact } from '../../../src/rules/decon/gear-of-unit.ts';

const unit = (type: DeconUnit['type'], more: Partial<DeconUnit> = {}): DeconUnit => ({ type, use: 'shared', ...more });
const NEXT: WellNext = { well: 'MW-5', suites: ['VOC'] };

function effort(of: DeconUnit, classes: readonly ContaminantClass[] = ['organics'], next: WellNext = NEXT) {
  return deconEffort(of, classes, { well: 'MW-3' }, next);
}

describe('effort by kind of unit (common practice, no source)', () => {
  it.each([
    ['bladder-pump', 'full'],
    ['submersible-pump', 'full'],
    ['hand-gear', 'full'],
    ['other', 'full'],
    ['water-level-tape', 'wipe-down'],
    ['multi-parameter-meter', 'rinse'],
    ['turbidity-meter', 'rinse'],
    ['flow-cell', 'rinse'],
    ['tubing', 'replace'],
    ['peristaltic-pump', 'none'],
    ['compressor', 'none'],
    ['battery', 'none'],
  ] as const)('%s, shared: %s', (type, expected) => {
    expect(effort(unit(type)).effort).toBe(expected);
  });

  it('none for what is dedicated or thrown away', () => {
    const dedicated = unit('bladder-pump', { use: 'dedicated', dedicatedTo: 'MW-5', keptInItsWell: true });
    expect(deconEffort(dedicated, [], { well: 'MW-5' }, NEXT)).toMatchObject({ effort: 'none', notKnown: [] });
    expect(deconEffort(dedicated, [], {}, NEXT).effort).toBe('none');
    expect(deconEffort(unit('hand-gear', { use: 'disposable' }), [], {}, NEXT).effort).toBe('none');
  });

  it('what is disposable and was in another well is replaced', () => {
    for (const type of ['hand-gear', 'bladder-pump', 'tubing'] as const) {
      const answer = effort(unit(type, { use: 'disposable' }));
      expect(answer).toMatchObject({ effort: 'replace', isByProtocol: false });
      expect(answer.reasons).toEqual(['It is disposable and was used in MW-3: discard it and take a new one.']);
    }
  });

  it('more after product, for everything that touches water and is shared', () => {
    for (const type of ['bladder-pump', 'water-level-tape', 'flow-cell', 'hand-gear'] as const)
      expect([type, effort(unit(type), ['product', 'organics']).effort]).toEqual([type, 'after-product']);
    expect(effort(unit('compressor'), ['product']).effort).toBe('none');
  });

  it('a tape gets more than a wipe where PFAS matter', () => {
    expect(effort(unit('water-level-tape'), ['pfas']).effort).toBe('full');
  });
});

describe('dedicated gear', () => {
  it('that would go into another well counts as shared, and it is said', () => {
    const answer = effort(unit('bladder-pump', { use: 'dedicated', dedicatedTo: 'MW-9' }));
    expect(answer.effort).toBe('full');
    expect(answer.reasons[0]).toBe('It is dedicated to MW-9 and would go into MW-5: it counts as shared.');
  });

  it('that was in another well is cleaned like what crews share before it goes back', () => {
    const own = unit('bladder-pump', { use: 'dedicated', dedicatedTo: 'MW-5', keptInItsWell: true });
    const answer = effort(own);
    expect(answer).toMatchObject({ effort: 'full', isByProtocol: true });
    expect(answer.reasons[0]).toBe('It is dedicated to MW-5 and was in MW-3: it counts as shared.');
    expect(deconEffort(own, [], { well: 'MW-5', alsoMet: ['MW-3'] }, NEXT).effort).toBe('full');
  });

  it('that is not kept in its well is rinsed before use (Colorado state file, doc 936441, page 62)', () => {
    const kept = unit('bladder-pump', { use: 'dedicated', dedicatedTo: 'MW-5', keptInItsWell: false });
    const answer = deconEffort(kept, ['organics'], { well: 'MW-5' }, NEXT);
    expect(answer).toMatchObject({ effort: 'rinse', isByProtocol: false });
    expect(answer.reasons[0]).toContain('doc 936441, page 62');
  });

  it('says what of it is not recorded', () => {
    expect(effort(unit('bladder-pump', { use: 'dedicated' })).notKnown).toHaveLength(2);
  });
});

describe('between the same well', () => {
  it('nothing is carried over', () => {
    expect(effort(unit('bladder-pump'), ['organics'], { well: 'MW-3' }).effort).toBe('none');
  });

  it('but not where it met another since it was last clean', () => {
    const back = { well: 'MW-5', alsoMet: ['MW-3'] };
    expect(deconEffort(unit('bladder-pump'), ['organics'], back, NEXT).effort).toBe('full');
    expect(deconEffort(unit('tubing'), [], { well: 'MW-5' }, NEXT).effort).toBe('none');
    expect(deconEffort(unit('tubing'), [], back, NEXT).effort).toBe('replace');
  });

  it('wells are compared as they are given, and called by their names', () => {
    const named = () => 'MW-1';
    expect(
      deconEffort(unit('bladder-pump'), [], { well: 'id of one' }, { well: 'id of another' }, named),
    ).toMatchObject({
      effort: 'full',
    });
    const same = deconEffort(unit('bladder-pump'), [], { well: 'id of one' }, { well: 'id of one' }, named);
    expect(same.reasons[0]).toContain('It goes back into MW-1');
  });

  it('and two wells without a name are not the same', () => {
    expect(deconEffort(unit('bladder-pump'), [], {}, {}).effort).toBe('full');
  });
});

describe('each type of unit', () => {
  it.each(DECON_UNIT_TYPES)('%s is either cleaned as some gear or never', (type) => {
    const contact = waterContact(type);
    expect(gearOfUnit(type) === null).toBe(contact === 'dry' || contact === 'tubing');
    for (const use of ['shared', 'dedicated', 'disposable'] as const) {
      const answer = effort(unit(type, { use }));
      expect(answer.reasons.length).toBeGreaterThan(0);
      if (answer.isByProtocol) expect(gearOfUnit(type)).not.toBeNull();
    }
  });
});
