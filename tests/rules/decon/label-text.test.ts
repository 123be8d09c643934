import { describe, expect, it } from 'vitest';
import { DECON_PROTOCOLS, deconProtocol } from '../../../src/catalog/decon/decon-protocols.ts';
import { labelText } from '../../../src/rules/decon/label-text.ts';

function of(id: string, more: Partial<Parameters<typeof labelText>[0]> = {}) {
  const protocol = deconProtocol(id);
  if (!protocol) throw new Error(`no protocol ${id}`);
  return labelText({ unit: 'Pump P2', protocol, ended: '2026-05-04T23:50:00-05:00', ...more });
}

// US EPA, RCRA draft technical guidance, Nov 1992, p. 7-18; California EPA, county file, doc 612081, page 26
describe('the label on the wrapping', () => {
  it('says how it was decontaminated and on what date, as it was where it was done', () => {
    expect(of('hand-gear-wash').lines).toEqual([
      'Pump P2',
      'Decontaminated 2026-05-04',
      'Hand gear: brush, detergent, potable water, distilled water three times',
      'potable water; solution of a detergent without phosphate; potable water; distilled water',
    ]);
  });

  it('says what was done otherwise', () => {
    expect(of('hand-gear-wash', { deviations: ['No detergent.'] }).lines.at(-1)).toBe('Otherwise: No detergent.');
  });

  it('is wrapped in foil and bag, but not for PFAS (state guides, from memory)', () => {
    expect(of('hand-gear-wash')).toMatchObject({
      wrap: 'foil-and-bag',
      wrapSentence: expect.stringContaining('shiny side out'),
    });
    expect(of('hand-gear-wash', { nextClasses: ['pfas'] })).toMatchObject({
      wrap: 'bag',
      wrapSentence: expect.stringContaining('No aluminium foil'),
    });
    expect(of('pfas-free-rinse').wrap).toBe('bag');
    expect(of('tape-wipe-down')).toMatchObject({ wrap: 'bag', wrapSentence: 'Put into a clean plastic bag.' });
  });

  it.each(DECON_PROTOCOLS.map(({ id }) => id))('%s: no line is empty', (id) => {
    expect(of(id).lines.every((line) => line.length > 0)).toBe(true);
  });
});
