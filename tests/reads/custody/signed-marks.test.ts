import { expect, it } from 'vitest';
import { custodyRecord } from '../../../src/reads/custody/custody-record.ts';
import { marksOf } from '../../../src/reads/custody/signed-marks.ts';
import type { ContentsChange } from '../../../src/rules/custody/contents-changes.ts';
import { coolerFacts } from '../../../src/rules/custody/cooler-facts.ts';
import { idOf, SamplesWorld } from '../../rules/samples/samples-world.ts';

const at = (clock: string) => `2026-05-04T${clock}:00-05:00`;

/** A cooler that was signed for, with a bottle of a sample, in an event that has one of this type planned. */
function signed(type: string, more: object = {}) {
  const observed = { at: at('17:00'), entered: at('17:00'), captured: 'at-the-well', readBy: 'ann', writtenBy: 'ann' };
  const hand = { cooler: 'c-1', side: 'relinquished', at: at('17:00'), name: 'Ann Poe', observed };
  const of = new SamplesWorld()
    .sampled('W-1', ['ions'], at('10:00'))
    .add('planned-sample', 'p-1', { event: 'event-1', number: 'P-1', type, suites: ['ions'], standing: 'planned' })
    .add('cooler', 'c-1', { event: 'event-1', number: 'C1', packed: at('16:00') })
    .add('hand-over', 'h-1', hand)
    .bottle('N-1', 'nitrate', { sample: 'sample-W-1', suite: 'ions', cooler: 'c-1', ...more })
    .samples();
  const [cooler] = of.coolers;
  if (!cooler) throw new Error('no cooler');
  return { of, facts: coolerFacts(cooler, of) };
}

function change(act: ContentsChange['act']): ContentsChange {
  const nobody = { uncertaintyMs: 0, client: null, mutation: null, by: null, reason: null, other: null };
  return { ...nobody, container: idOf('N-1'), label: 'N-1', act, at: at('17:30'), initials: 'BR' };
}

/** The marks of a bottle that came after signing. */
function marks(type: string) {
  const { of, facts } = signed(type);
  const found = marksOf(facts, { changes: [change('added')], gone: [] }, of, new Map());
  return [found.get(idOf('N-1')), found.remarks];
}

it('no bottle is marked while a blind duplicate is planned and not taken yet: its record may be printed once more then', () => {
  expect(marks('normal')).toEqual([{ added: { initials: 'BR', day: '2026-05-04' } }, [expect.any(String)]]);
  expect(marks('blind-duplicate')).toEqual([
    undefined,
    ['After it was signed for: 1 container added (BR 2026-05-04).'],
  ]);
});

it('of a sample that left a cooler whole no time is told on its record, and of one that is in there it is', () => {
  const people = { firm: 'Example Firm', names: new Map(), initials: new Map() };
  const times = (more: object, changes: readonly ContentsChange[]) => {
    const { of, facts } = signed('normal', more);
    const contents = { changes, gone: of.containers.filter(() => changes.length > 0) };
    const loaded = { facts, of, people, former: [], writers: new Map(), contents };
    return custodyRecord(loaded, at('20:00')).samples.map(({ labelTime }) => labelTime);
  };
  expect(times({}, [])).toEqual([{ at: at('10:00') }]);
  const left = { cooler: 'c-2' };
  expect(times(left, [change('taken out')])).toEqual([{ corrected: { now: 'not in this cooler', was: [] } }]);
});
