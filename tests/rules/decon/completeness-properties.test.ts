import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DECON_PROTOCOLS } from '../../../src/catalog/decon/decon-protocols.ts';
import { type DeconToJudge, deconCompleteness } from '../../../src/rules/decon/completeness.ts';
import type { DeconStepRecord, PartChangeRecord, SoftPart } from '../../../src/rules/decon/decon-record.ts';
import { orderFindings } from '../../../src/rules/decon/step-order.ts';
import { at, DECON } from './decon-parts.ts';

const time = fc
  .tuple(fc.integer({ min: 8, max: 12 }), fc.integer({ min: 0, max: 59 }))
  .map(([hour, minute]) => at(`${String(hour).padStart(2, '0')}:${String(minute).padStart(2, '0')}`));
const maybeText = (...words: string[]) => fc.option(fc.constantFrom(...words));

const PARTS: readonly SoftPart[] = [
  { id: 'b1', type: 'bladder', lot: 'B' },
  { id: 'b2', type: 'bladder' },
  { id: 't1', type: 'tubing' },
];

function stepOf(ids: readonly string[]): fc.Arbitrary<Omit<DeconStepRecord, 'id'>> {
  return fc.record({
    decon: fc.constantFrom(DECON.id, DECON.id, DECON.id, 'decon 2'),
    step: fc.constantFrom(...ids, 'polish'),
    done: fc.boolean(),
    fluid: maybeText('tap water', 'DI water', 'detergent', 'isopropanol', 'the blue jug'),
    lot: maybeText('L-1'),
    reason: maybeText('Frozen.', 'None left.'),
    part: maybeText('b1', 'b2', 't1', 'unknown'),
    observed: fc.record({ at: time }),
  });
}

const aChange: fc.Arbitrary<Omit<PartChangeRecord, 'id'>> = fc.record({
  unit: fc.constantFrom(DECON.unit, 'pump 3'),
  part: fc.constantFrom('b1', 'b2', 't1'),
  action: fc.constantFrom('installed', 'removed', 'discarded', 'kept-for-well'),
  well: maybeText('MW-5', 'MW-6'),
  observed: fc.record({ at: time }),
});

function numbered<T>(items: readonly T[]): (T & { readonly id: string })[] {
  return items.map((item, index) => ({ ...item, id: `record ${index}` }));
}

const given: fc.Arbitrary<DeconToJudge> = fc.constantFrom(...DECON_PROTOCOLS).chain((protocol) =>
  fc.record({
    decon: fc.record({
      id: fc.constant(DECON.id),
      unit: fc.constant(DECON.unit),
      protocol: fc.constant(protocol.id),
      began: time,
      ended: fc.option(time),
      wasteTo: maybeText('drum 1'),
    }),
    unitType: fc.constantFrom('bladder-pump', 'submersible-pump', 'water-level-tape', 'flow-cell', 'other'),
    steps: fc.array(stepOf(protocol.steps.map(({ id }) => id)), { maxLength: 20 }).map(numbered),
    parts: fc.constant(PARTS),
    partChanges: fc.array(aChange, { maxLength: 8 }).map(numbered),
    nextUse: fc.option(time, { nil: undefined }),
    lotsRequired: fc.subarray(['bladder', 'tubing', 'fluid']),
  }),
);

function shuffled<T>(items: readonly T[]): fc.Arbitrary<T[]> {
  return fc.shuffledSubarray([...items], { minLength: items.length });
}

describe('whatever was recorded', () => {
  it('the order of arrival makes no difference', () => {
    const both = given.chain((one) =>
      fc.record({
        one: fc.constant(one),
        steps: shuffled(one.steps),
        partChanges: shuffled(one.partChanges ?? []),
        parts: shuffled(one.parts ?? []),
      }),
    );
    fc.assert(
      fc.property(both, ({ one, ...other }) => {
        expect(deconCompleteness({ ...one, ...other })).toEqual(deconCompleteness(one));
      }),
      { numRuns: 500 },
    );
  });

  it('it is complete exactly where nothing is found, and clean only where it has ended', () => {
    fc.assert(
      fc.property(given, (one) => {
        const { standing, findings, isClean } = deconCompleteness(one);
        const open = findings.filter(({ isDeviation }) => !isDeviation);
        if (!one.decon.ended) expect([standing, isClean]).toEqual(['under-way', false]);
        else if (findings.length === 0) expect([standing, isClean]).toEqual(['complete', true]);
        else expect(standing).toBe(open.length > 0 ? 'incomplete' : 'complete-with-deviation');
        if (open.some(({ concerns }) => concerns === 'cleaning')) expect(isClean).toBe(false);
      }),
    );
  });

  it('records of another cleaning do no harm', () => {
    fc.assert(
      fc.property(given, (one) => {
        const own = one.steps.filter(({ decon }) => decon === DECON.id);
        expect(deconCompleteness({ ...one, steps: own })).toEqual(deconCompleteness(one));
      }),
    );
  });
});

/** Whether some choice of one time a step never goes back, tried one by one: an oracle of its own. */
function canBeInOrder(times: readonly (readonly string[])[], after = ''): boolean {
  const [first, ...rest] = times;
  if (first === undefined) return true;
  return first.some((one) => one >= after && canBeInOrder(rest, one));
}

describe('order of steps', () => {
  it('is found wrong exactly where no choice among the times of each step goes forward', () => {
    const [protocol] = DECON_PROTOCOLS.filter(({ id }) => id === 'hand-gear-wash');
    if (!protocol) throw new Error('no protocol');
    const steps = protocol.steps;
    const times = fc.tuple(...steps.map(() => fc.array(time, { minLength: 1, maxLength: 3 })));
    fc.assert(
      fc.property(times, (all) => {
        const recorded = steps.map((step, index) => ({
          step,
          leftOut: [],
          done: (all[index] ?? []).toSorted().map((when, n) => ({
            id: `${index} ${n}`,
            decon: DECON.id,
            step: step.id,
            done: true,
            observed: { at: when },
          })),
        }));
        expect(orderFindings(recorded).length === 0).toBe(canBeInOrder(all));
      }),
    );
  });
});
