import type { UnitStateName } from '../../protocol/kinds/unit-state.ts';
import { type EquipmentIndex, wellName } from './equipment-index.ts';
import { momentText } from './moment.ts';
import { isDry, isOwnWell, unitName } from './unit-kind.ts';
import type { LifeSpan, StateSpan } from './unit-life.ts';
import type { UnitLine } from './unit-line.ts';

/** Where a unit stands and why; what the record of its state on the wire says. */
export interface UnitState {
  readonly unit: string;
  readonly state: UnitStateName;
  /** As entered; null for what it is from the first, before any record of it. */
  readonly since: string | null;
  /** The record that put it there; its own where nothing else did. */
  readonly because: { readonly record: string; readonly kind: string };
  readonly sentence: string;
  readonly well: string | null;
}

function becauseOf(span: StateSpan, line: UnitLine): UnitState['because'] {
  const { cause } = span;
  if (cause.by === 'decon') return { record: cause.decon.record.id, kind: cause.decon.record.kind };
  if (cause.by === 'service') return { record: cause.service.record.id, kind: cause.service.record.kind };
  if (cause.by === 'contact') {
    const { from, until } = cause.contact;
    const { record, kind } = span.state === 'used' && until === span.since && until ? until : from;
    return { record, kind };
  }
  return { record: line.id, kind: line.unit?.kind ?? 'unit' };
}

function ownSentence(name: string, line: UnitLine, index: EquipmentIndex): string {
  const { unit } = line;
  if (isDry(unit)) return `No part of ${name} touches the water: there is nothing to clean.`;
  if (unit?.fields.use === 'disposable') return `${name} is disposable and has not been in a well.`;
  const own = unit?.fields.use === 'dedicated' ? unit.fields.dedicatedTo : undefined;
  if (own) return `${name} is dedicated to ${wellName(index, own)} and has been in no other well.`;
  return `No record says that ${name} is clean: clean it before its first well.`;
}

function contactSentence(span: StateSpan, name: string, line: UnitLine, index: EquipmentIndex): string {
  if (span.cause.by !== 'contact') return '';
  const { contact } = span.cause;
  const at = wellName(index, contact.well);
  if (span.state === 'used') return `${name} was used at ${at} and no complete decon is recorded since.`;
  const where = contact.how === 'on-the-line' ? `on the line at ${at}` : `down ${at}`;
  const since = `${name} has been ${where} since ${momentText(contact.from)}`;
  if (isDry(line.unit)) return `${name} has been at work at ${at} since ${momentText(contact.from)}.`;
  return isOwnWell(contact, line.unit) ? `${since}, the well that it is dedicated to.` : `${since}.`;
}

function serviceSentence(span: StateSpan, name: string, index: EquipmentIndex): string {
  if (span.cause.by !== 'service') return '';
  const { type, moment } = span.cause.service;
  if (type === 'out-of-service') {
    const stuck = span.well === null ? '' : ` It is at ${wellName(index, span.well)}.`;
    return `${name} has been out of service since ${momentText(moment)}.${stuck}`;
  }
  if (type === 'returned') return `${name} was returned on ${momentText(moment)}.`;
  return `${name} arrived on ${momentText(moment)} and no complete decon is recorded since: clean it before its first well.`;
}

function deconSentence(span: StateSpan, name: string): string {
  if (span.cause.by !== 'decon') return '';
  const { decon } = span.cause;
  if (span.state === 'clean') return `${name} is clean by the decon that ended on ${momentText(decon.until)}.`;
  return `The decon of ${name} begun on ${momentText(decon.began)} does not make it clean yet. ${decon.standing.sentence}`;
}

/** Of a cleaning that is over: what became of it, as the span after it says. */
function pastDeconSentence(span: StateSpan, next: StateSpan, name: string): string {
  if (span.cause.by !== 'decon') return '';
  const { decon } = span.cause;
  const began = `The decon of ${name} began on ${momentText(decon.began)}`;
  const isCleanByIt = next.state === 'clean' && next.cause.by === 'decon' && next.cause.decon === decon;
  if (isCleanByIt) return `${began} and was complete on ${momentText(decon.until)}.`;
  if (!decon.standing.isClean) return `${began} and did not make it clean. ${decon.standing.sentence}`;
  return `${began}; before it was over, something else came.`;
}

/** @param next where it does not stand like that any more: what came after */
export function stateSentence(span: StateSpan, line: UnitLine, index: EquipmentIndex, next?: StateSpan): string {
  const name = unitName(line.unit, line.id);
  if (next && span.state === 'being-cleaned') return pastDeconSentence(span, next, name);
  if (span.cause.by === 'own') return ownSentence(name, line, index);
  if (span.cause.by === 'contact') return contactSentence(span, name, line, index);
  return span.cause.by === 'service' ? serviceSentence(span, name, index) : deconSentence(span, name);
}

function stateOf(span: StateSpan, line: UnitLine, index: EquipmentIndex, next?: StateSpan): UnitState {
  return {
    unit: line.id,
    state: span.state,
    since: span.since?.at ?? null,
    because: becauseOf(span, line),
    sentence: stateSentence(span, line, index, next),
    well: span.well,
  };
}

/** The present state of a unit by all that is recorded; undefined for a unit that no record names. */
export function unitState(index: EquipmentIndex, unit: string): UnitState | undefined {
  const line = index.lines.get(unit);
  const span = line?.life.spans.at(-1);
  return line && span ? stateOf(span, line, index) : undefined;
}

export interface TimedState extends UnitState {
  /** In milliseconds since 1970, corrected by the clocks, to the minute; minus infinity for the first. */
  readonly fromMs: number;
}

/** Every state that a unit went through, earliest first. */
export function unitStates(index: EquipmentIndex, unit: string): readonly TimedState[] {
  const line = index.lines.get(unit);
  if (!line) return [];
  const { spans } = line.life;
  return spans.map((span: LifeSpan, at) => ({ ...stateOf(span, line, index, spans[at + 1]), fromMs: span.fromMs }));
}
