import { describe, expect, it } from 'vitest';
import type { RecordState } from '../../../src/protocol/record.ts';
import { EVENT_SAMPLES_KINDS, eventSamples } from '../../../src/rules/samples/event-samples.ts';

function state(kind: string, id: string, more: Partial<RecordState> = {}): RecordState {
  return { kind, id, rev: 1, voided: null, by: null, intent: null, fields: {}, ...more } as RecordState;
}

const event = state('event', '01');

describe('the records of the samples of an event', () => {
  it('stand in the list of their kind, in the order of their ids', () => {
    const found = eventSamples(event, [
      state('well', '0c'),
      state('site', '05'),
      state('well', '0a'),
      state('fill', '0b'),
    ]);
    expect(found.wells.map(({ id }) => id)).toEqual(['0a', '0c']);
    expect(found.fills.map(({ id }) => id)).toEqual(['0b']);
    expect(found.site?.id).toBe('05');
    expect(found.containers).toEqual([]);
  });

  it('are without those that were voided', () => {
    const voided = { reason: 'broke', by: null };
    expect(eventSamples(event, [state('container', '0a', { voided })]).containers).toEqual([]);
  });

  it('are of as many kinds as there are lists, with the event and its site', () => {
    const lists = Object.values(eventSamples(event, [])).filter(Array.isArray);
    expect(new Set(EVENT_SAMPLES_KINDS).size).toBe(lists.length + 2);
  });

  it('are read as their shape is by now: what is not of its form counts as missing', () => {
    const fields = { event: '01', number: 'C-1', ice: 7 };
    expect(eventSamples(event, [state('cooler', '0a', { fields })]).coolers[0]?.fields).toEqual({
      event: '01',
      number: 'C-1',
    });
  });
});
