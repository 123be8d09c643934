import type { KindDefinition } from '../../protocol/kind.ts';
import { KINDS } from '../../protocol/kinds-by-name.ts';
import { HANDED_IN_RULES, handedInFlags } from '../flags/handed-in.ts';
import type { Held, World } from '../held.ts';
import type { Derived } from './derived.ts';
import { flagDerived, flagId } from './flag-derived.ts';

function isInEvent({ name, home, writers }: KindDefinition): boolean {
  return home.in === 'parent' && home.field === 'event' && writers.includes('crew') && name !== 'visit';
}

const IN_EVENT: readonly string[] = KINDS.filter(isInEvent).map(({ name }) => name);

function isBeneath({ home, references, writers }: KindDefinition): boolean {
  return home.in === 'parent' && writers.includes('crew') && IN_EVENT.includes(references[home.field] ?? '');
}

/** What crews record in an event and at no visit: claims of wells, checks of a kit, blanks, containers and their fills. */
export const AT_NO_VISIT: readonly string[] = [...IN_EVENT, ...KINDS.filter(isBeneath).map(({ name }) => name)];

/** The records of an event that belong to no visit: those right under it, and what lives under these. */
export function atNoVisit(event: string, world: Pick<World, 'under'>): Held[] {
  const inEvent = world.under(event).filter(({ state }) => IN_EVENT.includes(state.kind));
  return [...inEvent, ...inEvent.flatMap(({ state }) => world.under(state.id))].filter(({ state }) =>
    AT_NO_VISIT.includes(state.kind),
  );
}

const CODES: readonly unknown[] = HANDED_IN_RULES.map(({ code }) => code);

/** Whether it says itself that it came otherwise than by the phone of a crew that is assigned; then it always will. */
export function isHandedIn({ state }: Pick<Held, 'state'>): boolean {
  const { kind, carriedBy, afterAssignment } = state;
  return AT_NO_VISIT.includes(kind) && (carriedBy !== undefined || afterAssignment !== undefined);
}

/** Whether a stored flag is about such a record, and not about a visit. */
export function isHandedInFlag({ state: { kind, fields } }: Pick<Held, 'state'>): boolean {
  return kind === 'flag' && CODES.includes(fields.rule) && fields.visit === undefined;
}

export function handedInFlagIds(firm: string, record: string): string[] {
  return HANDED_IN_RULES.map(({ code }) => flagId(firm, code, record));
}

export function handedInDerived(firm: string, subject: Held, world: Pick<World, 'under'>): Derived[] {
  if (!isHandedIn(subject)) return [];
  return handedInFlags(subject.state).map((flag) => flagDerived(firm, flag, { subject, visit: null }, world));
}
