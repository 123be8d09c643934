import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CONTAMINANT_CLASSES, DECON_GEAR, DECON_PROTOCOL_IDS } from '../../../src/catalog/decon/decon-protocol.ts';
import { DECON_PROTOCOLS } from '../../../src/catalog/decon/decon-protocols.ts';
import { chooseProtocols } from '../../../src/rules/decon/choose-protocols.ts';
import { type DeconAsked, planDecon } from '../../../src/rules/decon/plan-decon.ts';

const STAINLESS = [{ part: 'housing', material: 'stainless steel 316' }];

function plan(more: Partial<DeconAsked> = {}, type: DeconAsked['unit']['type'] = 'bladder-pump') {
  return planDecon({
    unit: { type, use: 'shared', wettedParts: STAINLESS },
    left: { well: 'MW-3', contaminants: ['organics'] },
    next: { well: 'MW-5', suites: ['VOC'] },
    ...more,
  });
}

const advised = (answer: ReturnType<typeof plan>) =>
  answer.protocols.filter(({ standing }) => standing === 'advised').map(({ protocol }) => protocol);
const reasonsOf = (answer: ReturnType<typeof plan>, id: string) =>
  answer.protocols.find(({ protocol }) => protocol === id)?.reasons.join(' ') ?? '';

describe('which protocols', () => {
  it.each([
    ['bladder-pump', ['organics'], ['VOC'], ['bladder-pump-new-parts']],
    ['submersible-pump', ['organics'], ['metals'], ['pump-flush']],
    ['water-level-tape', ['inorganics'], ['metals'], ['tape-wipe-down']],
    ['flow-cell', ['organics'], ['VOC'], ['meter-rinse']],
    ['hand-gear', ['organics'], ['VOC', 'metals'], ['hand-gear-wash']],
    ['bladder-pump', ['organics'], ['VOC', 'PFAS'], ['bladder-pump-new-parts', 'pfas-free-rinse']],
    ['bladder-pump', ['product', 'organics'], ['VOC'], ['product-contact']],
    ['water-level-tape', ['product'], ['metals', 'PFAS'], ['product-contact', 'tape-wipe-down', 'pfas-free-rinse']],
  ] as const)('%s after %j before %j: %j', (type, contaminants, suites, expected) => {
    const answer = plan({ left: { contaminants }, next: { suites } }, type);
    expect(advised(answer)).toEqual(expected);
    expect(answer.steps.map(({ protocol }) => protocol).filter((id, at, all) => id !== all[at - 1])).toEqual(expected);
  });

  it('those of the plan go first, if they are made for the gear', () => {
    const planned = ['organics-acetone-rinse', 'tape-wipe-down'];
    const answer = plan({ planned });
    expect(advised(answer)).toEqual(['organics-acetone-rinse']);
    expect(reasonsOf(answer, 'tape-wipe-down')).toContain('The plan names it. It is not made for a bladder pump.');
    expect(answer.protocols.find(({ protocol }) => protocol === 'tape-wipe-down')?.standing).toBe('does-not-suit');
  });

  it('what the plan leaves open is filled', () => {
    const answer = plan({ planned: ['organics-acetone-rinse'], next: { suites: ['VOC', 'metals', 'PFAS'] } });
    expect(advised(answer)).toEqual(['organics-acetone-rinse', 'bladder-pump-new-parts', 'pfas-free-rinse']);
  });

  it('nothing is proposed for what needs no protocol', () => {
    expect(plan({}, 'compressor')).toMatchObject({ effort: 'none', protocols: [], steps: [] });
    expect(plan({}, 'tubing')).toMatchObject({ effort: 'replace', protocols: [], steps: [] });
  });

  it('a meter that met product has none, and it is said', () => {
    const answer = plan({ left: { contaminants: ['product'] } }, 'multi-parameter-meter');
    expect(answer.effort).toBe('after-product');
    expect(answer.notKnown.join(' ')).toContain('No protocol here serves it against product');
  });
});

describe('materials', () => {
  // US EPA, RCRA draft technical guidance, Nov 1992, p. 7-18; California EPA, county file, doc 612081, page 26
  it('on stainless steel hydrochloric acid is taken, as nitric acid may oxidize it', () => {
    const planned = ['inorganics-acid-rinse'];
    const left = { contaminants: ['inorganics'] } as const;
    const next = { suites: ['metals'] };
    const acid = (answer: ReturnType<typeof plan>) => answer.steps.find(({ step }) => step === 'acid-rinse');
    expect(acid(plan({ planned, left, next }))).toMatchObject({
      fluids: ['dilute hydrochloric acid'],
      strength: '0.1 N',
      cautions: [expect.stringContaining('site safety plan')],
    });
    expect(reasonsOf(plan({ planned, left, next }), 'inorganics-acid-rinse')).toContain('take hydrochloric acid');
    const plastic = { type: 'hand-gear', use: 'shared', wettedParts: [{ part: 'bailer', material: 'polyethylene' }] };
    expect(acid(plan({ planned, left, next, unit: plastic as DeconAsked['unit'] }))?.fluids).toHaveLength(2);
  });

  it('where acetone is asked for, isopropanol (California EPA, county file, doc 612081, page 26)', () => {
    const planned = ['organics-acetone-rinse'];
    const solvent = (answer: ReturnType<typeof plan>) => answer.steps.find(({ step }) => step === 'solvent-rinse');
    expect(solvent(plan({ planned, acetoneIsAnalyte: true }))?.fluids).toEqual(['isopropanol, pesticide grade']);
    expect(solvent(plan({ planned }))?.fluids).toHaveLength(2);
  });

  it('no foil and no fluorosurfactant for PFAS (state guides, from memory)', () => {
    const answer = plan({ next: { suites: ['PFAS'] } });
    expect(reasonsOf(answer, 'bladder-pump-new-parts')).toContain('No aluminium foil');
    expect(reasonsOf(answer, 'pump-flush')).toContain('no fluorosurfactant');
    expect(answer.rinsateBecause).toContain('each day for each pump');
  });

  it('cleaning does not mend a PTFE bladder for PFAS (common practice, no source)', () => {
    const unit = { type: 'bladder-pump', use: 'shared', wettedParts: [{ part: 'bladder', material: 'PTFE' }] } as const;
    expect(plan({ unit, next: { suites: ['PFAS'] } }).reasons.join(' ')).toContain('The bladder of PTFE does not suit');
  });

  it('acid is kept off gear that is cleaned of organics alone (USGS A3, from memory)', () => {
    expect(reasonsOf(plan(), 'acid-then-solvent')).toContain('keep acid off it');
  });
});

describe('steps to do', () => {
  it('a part that two protocols replace is replaced once, at the end', () => {
    const answer = plan({ next: { suites: ['VOC', 'PFAS'] } });
    const changes = answer.steps.flatMap(({ protocol, newPart }) => (newPart ? [[protocol, newPart]] : []));
    expect(changes).toEqual([
      ['pfas-free-rinse', 'bladder'],
      ['pfas-free-rinse', 'tubing'],
    ]);
  });

  it('steps for other gear are left out', () => {
    expect(plan({}, 'flow-cell').steps.map(({ step }) => step)).toContain('empty-cell');
    expect(plan({}, 'turbidity-meter').steps.map(({ step }) => step)).not.toContain('empty-cell');
  });

  it('in freezing weather clean gear is carried along (CRREL 95-14)', () => {
    expect(plan({ isFreezing: true }).reasons.join(' ')).toContain('soap and water are impossible');
    expect(plan().reasons.join(' ')).not.toContain('soap and water');
  });
});

describe('what is not known', () => {
  it('is said, and taken for organics and inorganics', () => {
    const answer = plan({ unit: { type: 'bladder-pump', use: 'shared' }, left: { well: 'MW-3' }, next: {} });
    expect(answer.classes).toEqual(['organics', 'inorganics']);
    expect(answer.notKnown).toEqual([
      'What MW-3 holds is not known: it is treated as after organics and inorganics. Give the classes of the well.',
      'Which suites come next is not known: PFAS are not thought of.',
      'Of what its wetted parts are made is not recorded.',
    ]);
  });

  it('a suite whose name says nothing is named', () => {
    expect(plan({ next: { suites: ['suite B'] } }).notKnown[0]).toContain('suite B');
  });

  it('a well that holds nothing is not one of which nothing is known', () => {
    expect(plan({ left: { contaminants: [] }, next: { suites: ['metals'] } }).classes).toEqual(['inorganics']);
  });
});

describe('whatever is asked for', () => {
  const gears = fc.constantFrom(...DECON_GEAR);
  const classes = fc.subarray([...CONTAMINANT_CLASSES]);
  const planned = fc.subarray([...DECON_PROTOCOL_IDS]);

  it('what is advised is made for the gear, serves something, and leaves only what nothing here serves', () => {
    fc.assert(
      fc.property(gears, classes, planned, (gear, asked, named) => {
        const { advised: chosen, uncovered } = chooseProtocols(gear, asked, named);
        for (const one of chosen) {
          expect(one.gear).toContain(gear);
          expect(asked.some((each) => one.against.includes(each))).toBe(true);
        }
        for (const one of asked) {
          const isServed = chosen.some(({ against }) => against.includes(one));
          expect(isServed).toBe(!uncovered.includes(one));
          const couldBe = DECON_PROTOCOLS.some((each) => each.gear.includes(gear) && each.against.includes(one));
          expect(isServed).toBe(couldBe);
        }
      }),
    );
  });

  it('product is met first and PFAS last, and no protocol is named twice', () => {
    fc.assert(
      fc.property(gears, classes, planned, (gear, asked, named) => {
        const ids = chooseProtocols(gear, asked, named).advised.map(({ id }) => id as string);
        expect(new Set(ids).size).toBe(ids.length);
        if (ids.includes('product-contact')) expect(ids[0]).toBe('product-contact');
        if (ids.includes('pfas-free-rinse')) expect(ids.at(-1)).toBe('pfas-free-rinse');
      }),
    );
  });
});
