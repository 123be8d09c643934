import { idOf } from './equipment-drafts.ts';
import type { Draft, TestFirm } from './test-firm.ts';
import { minute } from './visit-drafts.ts';

type Fields = Readonly<Record<string, unknown>>;

/** Of one name in every firm, so that firms can be compared. */
export const sampleId = (name: string): string => idOf(`samples ${name}`);

/** A low-flow visit to the lone well, purged from minute 0 to 30 and called stable then; the crew left at minute 90. */
export function pumpedVisit(firm: TestFirm, name: string, more: Fields = {}): Draft[] {
  const [visit, purge] = [sampleId(name), sampleId(`${name} purge`)];
  const { event, lone: well, north: crew } = firm.ids;
  const times = { arrived: minute(-30), left: minute(90) };
  const set = { event, well, crew, method: 'low-flow', outcome: 'sampled', ...times, ...more };
  const observed = firm.observed(minute(30));
  return [
    { kind: 'visit', id: visit, set },
    { kind: 'purge', id: purge, set: { visit, began: minute(0), ended: minute(30) } },
    { kind: 'call', id: sampleId(`${name} call`), set: { purge, decision: 'stable', observed } },
  ];
}

export function sampleDraft(visit: string, number: string, more: Fields = {}): Draft {
  const set = { visit: sampleId(visit), number, suites: ['VOC'], collected: minute(35), ...more };
  return { kind: 'sample', id: sampleId(number), set };
}

/** A vial for volatiles, of a sample, unless more says otherwise. */
export function containerDraft(firm: TestFirm, label: string, sample: string | null, more: Fields = {}): Draft {
  const of = sample === null ? {} : { sample: sampleId(sample) };
  const parts = { type: 'vial', material: 'glass', preservatives: ['hydrochloric-acid'], volumeMl: '40' };
  const set = { event: firm.ids.event, ...of, group: 'volatiles', suite: 'VOC', ...parts, label, standing: 'filled' };
  return { kind: 'container', id: sampleId(label), set: { ...set, ...more } };
}

export function fillDraft(firm: TestFirm, label: string, at: number, more: Fields = {}): Draft {
  const observed = firm.observed(minute(at));
  const set = { container: sampleId(label), cellOff: true, collected: minute(at), observed, ...more };
  return { kind: 'fill', id: sampleId(`${label} ${at}`), set };
}
