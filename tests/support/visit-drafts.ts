import { v7 } from 'uuid';
import type { Draft, TestFirm } from './test-firm.ts';

const TEN = Date.parse('2026-05-04T10:00:00Z');

/** So many minutes after ten o'clock. */
export function minute(minutes: number): string {
  return new Date(TEN + minutes * 60_000).toISOString();
}

export interface VisitIds {
  readonly visit: string;
  readonly purge: string;
}

/** A low-flow visit of the north crew to the lone well, or to another, with a purge and nothing in it yet. */
export function visitDrafts(firm: TestFirm, more: object = {}): { ids: VisitIds; drafts: Draft[] } {
  const ids = { visit: v7(), purge: v7() };
  const { event, lone, north } = firm.ids;
  const set = { event, well: lone, crew: north, method: 'low-flow', arrived: minute(-30), ...more };
  return {
    ids,
    drafts: [
      { kind: 'visit', id: ids.visit, set },
      { kind: 'purge', id: ids.purge, set: { visit: ids.visit, began: minute(0) } },
    ],
  };
}

export function readingDraft(firm: TestFirm, purge: string, at: number, more: object = {}): Draft {
  const values = { temperatureC: '12.1', ph: '7.01', specificConductanceUsPerCm: '510', turbidityNtu: '3.1' };
  const others = { dissolvedOxygenMgPerL: '2.10', orpMv: '110', flowMlPerMin: '200', depthToWaterFt: '21.4' };
  const observed = firm.observed(minute(at));
  return { kind: 'reading', id: v7(), set: { purge, meter: firm.ids.meter, ...values, ...others, observed, ...more } };
}

/** A whole purge: the visit, the purge and four readings five minutes apart that are stable. */
export function purgeDrafts(firm: TestFirm, more: object = {}): { ids: VisitIds; drafts: Draft[] } {
  const { ids, drafts } = visitDrafts(firm, more);
  return { ids, drafts: [...drafts, ...[5, 10, 15, 20].map((at) => readingDraft(firm, ids.purge, at))] };
}
