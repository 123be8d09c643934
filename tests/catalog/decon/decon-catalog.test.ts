import { describe, expect, it } from 'vitest';
import { isItemVerified } from '../../../src/catalog/catalog-figures.ts';
import { catalogSection } from '../../../src/catalog/catalog-sections.ts';
import { BLANK_RULES } from '../../../src/catalog/decon/blank-rules.ts';
import { DECON_FLUID_LIST, DECON_FLUIDS, deconFluid, fluidsNamed } from '../../../src/catalog/decon/decon-fluids.ts';
import { DECON_HANDLING_RULES } from '../../../src/catalog/decon/decon-handling-rules.ts';
import { DECON_PROTOCOL_IDS, type DeconProtocol } from '../../../src/catalog/decon/decon-protocol.ts';
import { DECON_PROTOCOLS, deconProtocol } from '../../../src/catalog/decon/decon-protocols.ts';
import { DECON_WHEN_RULES } from '../../../src/catalog/decon/decon-when-rules.ts';

function protocol(id: string): DeconProtocol {
  const found = deconProtocol(id);
  if (found === undefined) throw new Error(`no protocol ${id}`);
  return found;
}

/** The fluids of a protocol in order, what is done only at times in brackets. */
function fluids(id: string): string {
  return protocol(id)
    .steps.filter((step) => step.fluids.length > 0)
    .map((step) => (step.when === undefined ? step.fluids.join('/') : `(${step.fluids.join('/')})`))
    .join(', ');
}

const each = DECON_PROTOCOLS.map((one) => [one.id, one] as const);

describe('the order of steps as each document gives it', () => {
  it.each([
    [
      'organics-acetone-rinse',
      'California EPA, county file, doc 612081, page 26',
      'detergent-solution, potable-water, acetone/isopropanol, organic-free-water',
    ],
    [
      'inorganics-acid-rinse',
      'US EPA, RCRA draft technical guidance, Nov 1992, p. 7-18',
      'detergent-solution, potable-water, hydrochloric-acid/nitric-acid, reagent-water',
    ],
    [
      'inorganics-acid-before-tap-water',
      'California EPA, county file, doc 612081, page 26',
      'detergent-solution, hydrochloric-acid/nitric-acid, potable-water, reagent-water',
    ],
    [
      'acid-then-solvent',
      'USGS National Field Manual A3, figure 3-1, from memory after the tap water: solvent after acid',
      'detergent-solution, potable-water, hydrochloric-acid, deionized-water, methanol, organic-free-water',
    ],
    [
      'pump-flush',
      'US EPA Region 1, SOP GW 0001, Rev. 2, p. 8-9, from memory: solvent only where blanks demand it',
      'potable-water, potable-water, detergent-solution, potable-water, (isopropanol), distilled-water/deionized-water',
    ],
    [
      'hand-gear-wash',
      'US Army depot SOP-003, county file, doc 798934, page 69',
      'potable-water, detergent-solution, potable-water, distilled-water',
    ],
    [
      'tape-wipe-down',
      'procedure 10.0, Colorado state file, doc 861949, page 36',
      'deionized-water, deionized-water, (isopropanol), (deionized-water)',
    ],
    ['pfas-free-rinse', 'state guides, from memory', 'detergent-solution, potable-water, pfas-free-water'],
  ])('%s (%s)', (id, _source, expected) => {
    expect(fluids(id)).toBe(expected);
  });

  it('acid of 0.1 N (EPA 1992, p. 7-18) and 0.1 mol/L (California), and 5 % by volume (USGS OFR 00-213, appendix E)', () => {
    const strengths = DECON_PROTOCOLS.flatMap(({ id, steps }) =>
      steps.flatMap(({ strength }) => (strength ? [[id, strength.figure.value, strength.unit]] : [])),
    );
    expect(strengths).toEqual([
      ['acid-then-solvent', '5', '% by volume'],
      ['inorganics-acid-rinse', '0.1', 'N'],
      ['inorganics-acid-before-tap-water', '0.1', 'mol/L'],
    ]);
  });

  it('three rinses with distilled water (SOP-003, read) and with water free of PFAS (from memory)', () => {
    const times = DECON_PROTOCOLS.flatMap(({ steps }) =>
      steps.flatMap(({ leastTimes, fluids: [fluid] }) =>
        leastTimes ? [[fluid, leastTimes.value, leastTimes.verified]] : [],
      ),
    );
    expect(times).toEqual([
      ['distilled-water', '3', true],
      ['distilled-water', '3', true],
      ['pfas-free-water', '3', false],
    ]);
  });

  it('a bladder pump gets a new bladder and new tubing between wells (SOP-003, county file, doc 798934, page 69)', () => {
    const changed = protocol('bladder-pump-new-parts').steps.filter(({ change }) => change);
    expect(changed.map(({ change, verified, source }) => [change, verified, source.includes('page 69')])).toEqual([
      ['bladder', true, true],
      ['tubing', true, true],
    ]);
  });

  it('after product tubing and lines are replaced (county file, doc 555123, page 60)', () => {
    const changed = protocol('product-contact').steps.filter(({ change, verified }) => change && verified);
    expect(changed.map(({ change }) => change)).toEqual(['tubing', 'support-line']);
  });
});

describe('each protocol', () => {
  it('is listed once under its id', () => {
    expect(DECON_PROTOCOLS.map(({ id }) => id).toSorted()).toEqual([...DECON_PROTOCOL_IDS]);
    expect(deconProtocol('constructor')).toBeUndefined();
  });

  it.each(each)('%s is verified exactly where each of its steps is, in the catalog as well', (id, one) => {
    expect(one.verified).toBe(one.steps.every(({ verified }) => verified));
    const item = catalogSection('decon-protocols')?.items.find((shown) => shown.id === id);
    expect(item && isItemVerified(item)).toBe(one.verified);
  });

  it.each(each)('%s has its steps in order, each once, and serves some class on some gear', (_id, one) => {
    expect(one.steps.map(({ place }) => place)).toEqual(one.steps.map((_step, index) => index + 1));
    expect(new Set(one.steps.map(({ id }) => id)).size).toBe(one.steps.length);
    expect(one.against.length * one.gear.length).toBeGreaterThan(0);
    for (const step of one.steps) for (const gear of step.onlyFor ?? []) expect(one.gear).toContain(gear);
  });

  it.each(each)('%s says for each acid and solvent what to mind, and defers to the site safety plan', (_id, one) => {
    const harmful = one.steps.flatMap((step) => step.fluids).filter((fluid) => /acid|acetone|anol/.test(fluid));
    for (const fluid of harmful) expect(deconFluid(fluid).caution).toContain('site safety plan');
    for (const { caution, action } of one.steps)
      if (/pressure|vapour/.test(action)) expect(caution).toContain('site safety plan');
  });

  it.each(each)('%s never wraps in foil what is for PFAS (state guides, from memory)', (_id, one) => {
    if (one.against.includes('pfas')) expect(one.wrap).toBe('bag');
    expect(DECON_HANDLING_RULES.noFoilForPfas.verified).toBe(false);
  });
});

describe('when to decontaminate', () => {
  it.each([
    ['US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 8 of 13', ['before-the-first-well', 'after-every-well']],
    ['county file, doc 798934, page 69', ['between-locations', 'before-leaving-the-site']],
    ['ASTM D5088-02 (2008), section 5', ['before-the-event', 'after-the-event']],
    ['county file, doc 798934, page 68', ['before-first-use']],
  ])('%s', (source, moments) => {
    expect(DECON_WHEN_RULES.find((rule) => rule.source.includes(source))?.moments).toEqual(moments);
  });
});

describe('fluids', () => {
  it('are each described once, and stand in only for what they are purer than', () => {
    expect(DECON_FLUID_LIST.map(({ id }) => id)).toEqual([...DECON_FLUIDS]);
    expect(deconFluid('organic-free-water').insteadOf).toContain('deionized-water');
    expect(deconFluid('potable-water').insteadOf).toEqual([]);
    for (const { id, insteadOf } of DECON_FLUID_LIST) expect(insteadOf).not.toContain(id);
  });

  it.each([
    ['tap water', ['potable-water']],
    ['DI water', ['deionized-water']],
    ['lab-certified PFAS-free water', ['pfas-free-water']],
    ['10 % HCl', ['hydrochloric-acid']],
    ['HNO3', ['nitric-acid']],
    ['isopropyl alcohol', ['isopropanol']],
    ['laboratory detergent', ['detergent-solution']],
    ['organic-free reagent water', ['reagent-water', 'organic-free-water']],
    ['whatever was in the bottle', []],
  ])('are known by what a crew writes: %s', (written, expected) => {
    expect(fluidsNamed(written).map(({ id }) => id)).toEqual(expected);
  });

  it('that the catalog does not hold are asked for by nobody', () => {
    expect(() => deconFluid('vinegar' as never)).toThrow('no fluid of the catalog');
  });
});

describe('the rule of the blank', () => {
  it('is five times for every analyte (US DoD, table A, 9 Feb 2022, read in a copy)', () => {
    expect(BLANK_RULES['us-dod-2022']).toMatchObject({ factor: { value: '5', verified: true }, dated: '2022-02-09' });
    expect(BLANK_RULES['us-dod-2022'].common).toBeUndefined();
  });

  it('was ten times for common laboratory contaminants in older guidelines (from memory)', () => {
    const { common } = BLANK_RULES['national-guidelines-older'];
    expect(common?.factor).toMatchObject({ value: '10', verified: false });
    expect(common?.analytes.map(({ name }) => name)).toContain('methylene chloride');
  });

  it('names each analyte by a CAS number whose check digit is right', () => {
    for (const { casNumber } of BLANK_RULES['national-guidelines-older'].common?.analytes ?? []) {
      const digits = casNumber.replaceAll('-', '');
      const sum = [...digits.slice(0, -1)]
        .reverse()
        .reduce((total, digit, index) => total + Number(digit) * (index + 1), 0);
      expect([casNumber, String(sum % 10)]).toEqual([casNumber, digits.at(-1)]);
    }
  });
});
