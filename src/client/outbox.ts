import { type Captured, capture } from './capture.ts';
import { checkAll, checkAmended, checkRehomed, type Fields, kindOrError, writableKind } from './check-fields.ts';
import type { ClientContext } from './context.ts';
import { LocalError } from './local-error.ts';

export interface RecordOptions {
  /** Made here if missing. */
  readonly id?: string;
  /** Records that the server must have before it applies this one, besides those that its fields name. */
  readonly requires?: readonly string[];
}

export interface AmendOptions {
  /** Needed for an observation: the old value stays readable beside the reason why it was corrected. */
  readonly reason?: string;
}

export async function record(
  context: ClientContext,
  kindName: string,
  fields: Fields,
  options: RecordOptions = {},
): Promise<Captured> {
  const kind = writableKind(kindName);
  const set = checkAll(kind, fields);
  const requires = options.requires === undefined ? undefined : [...options.requires];
  return capture(context, { verb: 'record', kind: kind.name, id: options.id ?? context.newId(), set, requires });
}

/** `set` holds the changed fields only; null clears one. */
export async function amend(
  context: ClientContext,
  kindName: string,
  id: string,
  set: Fields,
  options: AmendOptions = {},
): Promise<Captured> {
  const kind = writableKind(kindName);
  const changed = checkAmended(kind, set);
  const reason = kind.family === 'observation' ? reasonOf(options.reason, 'amend', kindName) : options.reason;
  return capture(context, { verb: 'amend', kind: kind.name, id, set: changed, reason });
}

export async function voidRecord(context: ClientContext, kindName: string, id: string, reason: string) {
  const kind = writableKind(kindName);
  return capture(context, { verb: 'void', kind: kind.name, id, reason: reasonOf(reason, 'void', kindName) });
}

/** Moves a record to the parent where it belongs (a visit to the right well); everything under it goes along. */
export async function rehome(context: ClientContext, kindName: string, id: string, set: Fields, reason: string) {
  const kind = writableKind(kindName);
  const changed = checkRehomed(kind, set);
  return capture(context, {
    verb: 'rehome',
    kind: kind.name,
    id,
    set: changed,
    reason: reasonOf(reason, 'rehome', kindName),
  });
}

/**
 * Says which value of a conflict stands; a clash of two claims has no value.
 *
 * @param neither said where the value is none of those given; the server takes it with a reason only
 */
export async function resolve(
  context: ClientContext,
  conflictId: string,
  value?: unknown,
  reason?: string,
  neither?: true,
) {
  const { name } = kindOrError('conflict');
  const set = value === undefined ? undefined : { value, ...(neither ? { neither } : {}) };
  return capture(context, { verb: 'resolve', kind: name, id: conflictId, set, reason });
}

function reasonOf(reason: string | undefined, verb: string, kind: string): string {
  if (reason !== undefined && reason.trim() !== '' && reason.length <= 1_000) return reason;
  const given = reason === undefined ? 'none was given' : `${reason.length} characters were given`;
  throw new LocalError('reason_missing', `to ${verb} a ${kind} takes a reason of 1 to 1,000 characters: ${given}`);
}
