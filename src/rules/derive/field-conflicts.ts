import { derivedId } from '../derived-id.ts';
import type { Held } from '../held.ts';
import { VOIDED } from '../merge/merge-memory.ts';
import { type Entry, type Register, rivals } from '../merge/register.ts';
import type { Derived } from './derived.ts';

export function fieldConflictId(firm: string, subject: string, field: string): string {
  return derivedId(firm, 'conflict', subject, field);
}

/** The conflicts that a record could have, so that the stored ones can be loaded beside it. */
export function fieldConflictIds(firm: string, held: Held): string[] {
  return Object.keys(held.memory?.registers ?? {}).map((field) => fieldConflictId(firm, held.state.id, field));
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

function sentence(held: Held, field: string, shown: Entry | undefined, kept: Register): string {
  const { kind } = held.state;
  if (field === VOIDED) return `One person voided this ${kind}, another changed it without knowing of that.`;
  const others = kept.map((entry) => JSON.stringify(entry.value)).join(', ');
  return `${field} of this ${kind} was given twice: ${JSON.stringify(shown?.value)} is shown, ${others} is kept.`.slice(
    0,
    1000,
  );
}

function conflictOf(firm: string, held: Held, field: string, register: Register): Derived[] {
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
    sentence: open ? sentence(held, field, shown, kept) : `${field} was decided by a person.`,
    certainty: 'certain',
    shown: rival(shown),
    kept: kept.map(rival),
    standing: open ? 'open' : 'resolved',
    ...(!open && resolution !== undefined ? { resolution } : {}),
  };
  const place = { feed: held.feed, parent: held.state.id, visit: held.visit };
  return [{ kind: 'conflict', id: fieldConflictId(firm, held.state.id, field), fields, ...place }];
}

/** The conflicts of the fields of a record: one a field that holds values of which nobody had seen the other. */
export function fieldConflicts(firm: string, held: Held): Derived[] {
  const registers = Object.entries(held.memory?.registers ?? {});
  return registers.flatMap(([field, register]) => conflictOf(firm, held, field, register));
}
