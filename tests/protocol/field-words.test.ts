import { describe, expect, it } from 'vitest';
import { fieldWords, withArticle } from '../../src/protocol/field-words.ts';
import { KINDS } from '../../src/protocol/kinds-by-name.ts';

describe('a field in words', () => {
  it.each([
    ['turbidityNtu', 'turbidity (NTU)'],
    ['ph', 'pH'],
    ['orpMv', 'ORP (mV)'],
    ['depthToWaterFt', 'depth to water (ft)'],
    ['specificConductanceUsPerCm', 'specific conductance (µS/cm)'],
    ['temperatureC', 'temperature (°C)'],
    ['flowMlPerMin', 'flow (mL/min)'],
    ['outcomeReason', 'outcome reason'],
    ['left', 'left'],
    ['plan', 'plan'],
  ])('%s is %s', (field, words) => expect(fieldWords(field)).toBe(words));
});

describe('a name with its article', () => {
  it('is what one says', () => {
    const said = KINDS.map(({ name }) => withArticle(name)).filter((name) => name.startsWith('an '));
    expect(said).toEqual(expect.arrayContaining(['an event', 'an assignment', 'an occurrence', 'an assessment']));
    expect(withArticle('unit')).toBe('a unit');
    expect(withArticle('water-level')).toBe('a water level');
    expect(withArticle('upload')).toBe('an upload');
  });
});
