import { v7 } from 'uuid';
import { deconProtocol } from '../../src/catalog/decon/decon-protocols.ts';
import type { Draft, TestFirm } from './test-firm.ts';

/** "09:10" of 4 May 2026 where the test firm is, or "05-07 09:10". */
export function clock(time: string): string {
  const day = time.length > 5 ? time.slice(0, 5) : '05-04';
  return `2026-${day}T${time.slice(-5)}:00-05:00`;
}

function plus(at: string, minutes: number): string {
  const local = new Date(Date.parse(`${at.slice(0, 19)}Z`) + minutes * 60_000).toISOString();
  return `${local.slice(0, 19)}${at.slice(19)}`;
}

const FLUSH = 'pump-flush';

/** A pump flushed by its protocol, with every step recorded a minute apart, or without the last. */
export function deconDrafts(
  firm: TestFirm,
  unit: string,
  began: string,
  isComplete = true,
): { readonly id: string; readonly drafts: readonly Draft[] } {
  const id = v7();
  const at = clock(began);
  const steps = (deconProtocol(FLUSH)?.steps ?? []).filter(({ when }) => when === undefined);
  const done = isComplete ? steps : steps.slice(0, -1);
  const set = { unit, protocol: FLUSH, against: ['organics'], began: at, ended: plus(at, 30), wasteTo: 'Drum 1' };
  return {
    id,
    drafts: [
      { kind: 'decon', id, set: { ...set, observed: firm.observed(at) } },
      ...done.map(({ id: step, fluids }, place): Draft => {
        const fluid = fluids[0] === undefined ? {} : { fluid: fluids[0], lot: 'L-1' };
        const observed = firm.observed(plus(at, place + 1));
        return { kind: 'decon-step', set: { decon: id, step, done: true, ...fluid, observed } };
      }),
    ],
  };
}

export interface PumpedIds {
  readonly visit: string;
  readonly sample: string;
}

interface Pumped {
  readonly well: string;
  readonly pump: string;
  readonly from: string;
  readonly number: string;
  readonly event?: string;
}

/** A visit of half an hour with a pump and a sample ten minutes before its end. */
export function pumpedDrafts(
  firm: TestFirm,
  { well, pump, from, number, event = firm.ids.event }: Pumped,
): { readonly ids: PumpedIds; readonly drafts: readonly Draft[] } {
  const ids = { visit: v7(), sample: v7() };
  const arrived = clock(from);
  const set = { event, well, crew: firm.ids.north, method: 'low-flow', arrived, left: plus(arrived, 30) };
  const observed = firm.observed(plus(arrived, 1));
  const collected = plus(arrived, 20);
  return {
    ids,
    drafts: [
      { kind: 'visit', id: ids.visit, set: { ...set, outcome: 'sampled' } },
      { kind: 'pump-set-up', set: { visit: ids.visit, pump, intakeDepthFt: '35.0', observed } },
      { kind: 'sample', id: ids.sample, set: { visit: ids.visit, number, suites: ['VOC'], collected } },
    ],
  };
}

/** What the laboratory found of tetrachloroethene; null: nothing. */
export function resultDraft(
  firm: TestFirm,
  of: { readonly sample?: string; readonly blank?: string },
  found: string | null,
  event = firm.ids.event,
): Draft {
  const figure = found === null ? { condition: 'not-detected' } : { condition: 'detected', value: found };
  const analyte = { analyte: 'Tetrachloroethene', casNumber: '127-18-4', unit: 'ug/L', reportingLimit: '0.5' };
  const observed = firm.observed(clock('05-25 09:00'), 'from-paper');
  return { kind: 'laboratory-result', set: { event, ...of, ...analyte, ...figure, observed } };
}
