import { expect, it } from 'vitest';
import type { RecordState } from '../../../src/protocol/record.ts';
import { laboratoryList, toldToLaboratory } from '../../../src/rules/laboratory/laboratory-list.ts';
import { eventSamples } from '../../../src/rules/samples/event-samples.ts';
import { idOf } from '../sampling-plan/plan-facts.ts';

type Fields = Readonly<Record<string, unknown>>;

const PACKED = '2026-05-04T15:00:00-05:00';

function state(kind: string, id: string, fields: Fields): RecordState {
  const nobody = { voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
  return { kind, id: idOf(id), rev: 1, ...nobody, fields };
}

const event = state('event', 'e', {
  site: idOf('s'),
  name: 'Round',
  starts: '2026-05-04',
  ends: '2026-05-04',
  standing: 'open',
  plan: { criteria: 'epa-region-1-low-stress-rev-4' },
});

function bottle(label: string, more: Fields): RecordState {
  const parts = {
    event: idOf('e'),
    group: 'volatiles',
    type: 'vial',
    volumeMl: '40',
    cooler: idOf('c'),
    standing: 'filled',
  };
  return state('container', label, { ...parts, label, ...more });
}

function rows(states: readonly RecordState[]) {
  const all = [
    event,
    state('site', 's', { name: 'Old Depot', timeZone: 'America/Chicago' }),
    state('laboratory', 'l', { name: 'Testlab', timeZone: 'America/Chicago', receiving: [] }),
    state('cooler', 'c', { event: idOf('e'), number: 'C-1', laboratory: idOf('l'), packed: PACKED }),
    state('planned-sample', 'p', {
      event: idOf('e'),
      well: idOf('w'),
      type: 'blind-duplicate',
      suites: ['VOC'],
      number: 'DUP-1',
      standing: 'planned',
    }),
    state('visit', 'v', { event: idOf('e'), well: idOf('w'), crew: idOf('k'), method: 'low-flow', arrived: PACKED }),
    bottle('B-1', { sample: idOf('here') }),
    state('sample', 'here', { visit: idOf('v'), number: '2605-11111', suites: ['VOC'], collected: PACKED }),
    ...states,
  ];
  return [...laboratoryList(toldToLaboratory(eventSamples(event, all), idOf('l')))];
}

it('a bottle in a closed cooler is on the list before its sample arrived, by its label alone', () => {
  const observed = { at: PACKED, entered: PACKED, captured: 'at-the-well', readBy: idOf('k'), writtenBy: idOf('k') };
  // when it was filled would tell the time of what may be a blind duplicate
  const fill = state('fill', 'f', { container: idOf('B-2'), collected: PACKED, preserved: true, observed });
  const told = rows([bottle('B-2', { sample: idOf('late') }), bottle('B-3', { planned: idOf('p') }), fill]);
  expect(told.map(({ sampleNumber, labelId, cooler }) => [sampleNumber, labelId, cooler])).toEqual([
    ['2605-11111', 'B-1', 'C-1'],
    ['not known', 'B-2', 'C-1'],
    ['not known', 'B-3', 'C-1'],
  ]);
  const [, late, planned] = told;
  expect([late?.matrix, late?.labelTime, late?.samplingPoint, late?.dueAt]).toEqual(['not known', ...Array(3)]);
  expect(JSON.stringify(planned)).not.toContain('DUP');
});

it('and by its number once the sample is here', () => {
  const sample = { visit: idOf('v'), number: '2605-22222', suites: ['VOC'], collected: PACKED };
  const told = rows([bottle('B-2', { sample: idOf('late') }), state('sample', 'late', sample)]);
  expect(told.map(({ sampleNumber, labelId }) => [sampleNumber, labelId])).toEqual([
    ['2605-11111', 'B-1'],
    ['2605-22222', 'B-2'],
  ]);
});
