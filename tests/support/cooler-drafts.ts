import { sampleId } from './sample-drafts.ts';
import type { Draft, TestFirm } from './test-firm.ts';
import { minute } from './visit-drafts.ts';

type Fields = Readonly<Record<string, unknown>>;

export function coolerDraft(firm: TestFirm, name: string, more: Fields = {}): Draft {
  return { kind: 'cooler', id: sampleId(name), set: { event: firm.ids.event, number: name, ...more } };
}

/** A change of custody of a cooler, so many minutes after ten. */
export function handDraft(
  firm: TestFirm,
  cooler: string,
  side: 'relinquished' | 'received',
  at: number,
  name: string,
  organization = 'Example Field Services',
): Draft {
  const observed = firm.observed(minute(at));
  const set = { cooler: sampleId(cooler), side, at: minute(at), name, organization, observed };
  return { kind: 'hand-over', id: sampleId(`${cooler} ${side} ${at}`), set };
}

export function sealDraft(firm: TestFirm, cooler: string, number: string, at: number, more: Fields = {}): Draft {
  const set = { cooler: sampleId(cooler), number, applied: minute(at), observed: firm.observed(minute(at)), ...more };
  return { kind: 'seal', id: sampleId(`seal ${number}`), set };
}

export function checkDraft(firm: TestFirm, cooler: string, at: number, more: Fields = {}): Draft {
  const set = { cooler: sampleId(cooler), observed: firm.observed(minute(at)), ...more };
  return { kind: 'cooler-check', id: sampleId(`${cooler} check ${at}`), set };
}

export function receiptDraft(firm: TestFirm, cooler: string | null, at: number, more: Fields = {}): Draft {
  const of = cooler === null ? {} : { cooler: sampleId(cooler) };
  const set = { event: firm.ids.event, ...of, received: minute(at), observed: firm.observed(minute(at)), ...more };
  return { kind: 'sample-receipt', id: sampleId(`receipt ${cooler} ${at}`), set };
}
