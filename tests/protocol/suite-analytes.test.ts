import { describe, expect, it } from 'vitest';
import { analyteSuite } from '../../src/protocol/kinds/analyte-suite.ts';

describe('the analytes of a suite', () => {
  const issues = (casNumber: string | null) => {
    const analytes = [{ name: 'benzene', ...(casNumber === null ? {} : { casNumber }) }];
    const parsed = analyteSuite.fields.safeParse({ name: 'VOC', groups: [{ group: 'volatiles' }], analytes });
    return parsed.error?.issues.map(({ path, message }) => [path.join('/'), message]) ?? [];
  };

  it('have a CAS number whose check digit fits, or none', () => {
    expect([issues('71-43-2'), issues(null)]).toEqual([[], []]);
    for (const wrong of ['71-43-3', '71432', 'benzene']) {
      expect(issues(wrong)).toEqual([['analytes/0/casNumber', expect.stringContaining('compare it with the order')]]);
    }
  });
});
