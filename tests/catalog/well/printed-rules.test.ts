import { describe, expect, it } from 'vitest';
import { LEVEL_RULES } from '../../../src/catalog/levels/level-rules.ts';
import { INTAKE_RULES } from '../../../src/catalog/well/intake-rules.ts';
import { RECOVERY_RULES } from '../../../src/catalog/well/recovery-rules.ts';

describe('rules as their documents give them', () => {
  it.each([
    ['US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 6 of 13', null, null, null],
    ['county file, doc 611837, page 13', '80', null, '24'],
    ['county file, doc 579212, page 34', '80', '1', '8'],
    ['county file, doc 611862, page 25', '70', null, null],
    ['county files, doc 600417, page 52, and doc 453809, page 12', null, null, '24'],
  ])('recovery by %s: %s %%, from %s h, to %s h', (source, percent, notBeforeH, notAfterH) => {
    expect(RECOVERY_RULES.find((rule) => rule.source === source)).toMatchObject({ percent, notBeforeH, notAfterH });
  });

  it('levels: 0.01 and 0.02 ft, best below 200 ft, 24 h after purging, one round in 24 h, each with its document', () => {
    const told = [
      ...LEVEL_RULES.repeatWithinFt,
      LEVEL_RULES.levelPrecisionFt,
      LEVEL_RULES.electricTapeBestBelowFt,
      LEVEL_RULES.waitAfterPurgingH,
      LEVEL_RULES.roundSpanH,
    ];
    expect(told.map(({ value, source }) => [value, source?.match(/doc \d+|GWPD 4|RCRA|SOP 2043/)?.[0]])).toEqual([
      ['0.01', 'doc 919545'],
      ['0.02', 'doc 600482'],
      ['0.01', 'RCRA'],
      ['200', 'GWPD 4'],
      ['24', 'RCRA'],
      ['24', 'SOP 2043'],
    ]);
  });

  it('intake: at least 2 ft above the bottom (US EPA Region 1, from memory)', () => {
    expect(INTAKE_RULES.bottomClearanceFt).toMatchObject({ value: '2', verified: false });
  });
});
