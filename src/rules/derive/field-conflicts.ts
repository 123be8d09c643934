import { fieldWords } from '../../protocol/field-words.ts';
import { derivedId } from '../derived-id.ts';
import type { Held } from '../held.ts';
import { VOIDED } from '../merge/merge-memory.ts';
import { type Entry, type Register, rivals } from '../merge/register.ts';
import type { Derived } from './derived.ts';

export function fieldConflictId(firm: string, subject: string, field: string): string {
  return derivedId(firm, 'conflict', subject, field);
}

function rival(entry: Entry) {
  const { value, by, client, mutation } = entry;
  return {
    value,
    ...(by === null ? {} : { by }),
    ...(client === null ? {} : { client }),
    ...(mutation === null ? {} : { mutation }),
  };
}

/** At most so much of a value is said. */
const LONGEST_VALUE = 100;
const LONGEST_SENTENCE = 1_000;

/** A value as people read it: a measurement as it stands, a text in quotation marks. */
function spoken(value: unknown): string {
  const text = typeof value === 'string' && /^-?\d+(?:\.\d+)?$/.test(value) ? value : String(JSON.stringify(value));
  return text.length > LONGEST_VALUE ? `${text.slice(0, LONGEST_VALUE - 3)}...` : text;
}

/** Which record it is, as a person would find it: by its name, or by when it was observed and at which well. */
function theRecord({ state }: Held, well: string | null): string {
  const { name, label, observed } = state.fields as { name?: string; label?: string; observed?: { at: string } };
  const own = name ?? label;
  const of = observed === undefined ? '' : ` of ${observed.at}`;
  return `the ${state.kind.replaceAll('-', ' ')}${own === undefined ? '' : ` ${own}`}${of}${well === null ? '' : ` at ${well}`}`;
}

function capital(text: string): string {
  return text.startsWith('pH') ? text : text.charAt(0).toUpperCase() + text.slice(1);
}

function sentence(of: string, field: string, shown: Entry, kept: Register): string {
  if (field === VOIDED) {
    return kept.length === 0
      ? `Whether ${of} counts was decided by a person.`
      : `One person voided ${of}, another changed it without knowing of that.`;
  }
  const what = capital(`${fieldWords(field)} of ${of}`);
  if (kept.length === 0) return `${what} was decided by a person.`;
  const others = kept.map((entry) => spoken(entry.value));
  const are = others.length === 1 ? 'is' : 'are';
  return `${what} was given twice: ${spoken(shown.value)} is shown, ${others.join(', ')} ${are} kept.`;
}

function conflictOf(firm: string, held: Held, field: string, register: Register, well: string | null): Derived[] {
  const kept = rivals(register);
  const shown = register.at(-1);
  const resolution = held.memory?.resolutions[field];
  if (!shown || (kept.length === 0 && resolution === undefined)) return [];
  const open = kept.length > 0;
  const fields = {
    subjectKind: held.state.kind,
    subject: held.state.id,
    type: field === VOIDED ? 'void' : 'field',
    ...(field === VOIDED ? {} : { field }),
    sentence: sentence(theRecord(held, well), field, shown, kept).slice(0, LONGEST_SENTENCE),
    certainty: 'certain',
    shown: rival(shown),
    kept: kept.map(rival),
    standing: open ? 'open' : 'resolved',
    ...(!open && resolution !== undefined ? { resolution } : {}),
  };
  const place = { feed: held.feed, parent: held.state.id, visit: held.visit };
  return [{ kind: 'conflict', id: fieldConflictId(firm, held.state.id, field), fields, ...place }];
}

/**
 * The conflicts of the fields of a record: one a field that holds values of which nobody had seen the other.
 *
 * @param well the name of the well that it was recorded at; null for what belongs to no visit
 */
export function fieldConflicts(firm: string, held: Held, well: string | null = null): Derived[] {
  const registers = Object.entries(held.memory?.registers ?? {});
  return registers.flatMap(([field, register]) => conflictOf(firm, held, field, register, well));
}
