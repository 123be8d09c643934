import { kindNamed } from '../../protocol/kinds-by-name.ts';
import { isUnreadable, readSet } from '../../protocol/read-mutation.ts';
import { derivedId } from '../derived-id.ts';
import type { Held, World } from '../held.ts';
import { VOIDED } from '../merge/merge-memory.ts';
import { changeRecord } from './change-record.ts';
import { type Change, type Decision, type NotTaken, refuse } from './decision.ts';
import { personOf, type Request } from './request.ts';

interface ConflictFields {
  readonly subject: string;
  readonly type: string;
  readonly field?: string;
  readonly standing: string;
  readonly kept: readonly { readonly value?: unknown }[];
}

/**
 * A person decides a conflict: the value named stands and is written like any other change, the rivals are listed in
 * the resolution. It cites the revision of the conflict that was looked at, so that a rival who came since is not lost.
 */
export function decideResolve(request: Request, held: Held, world: World): Decision {
  const conflict = held.state.fields as unknown as ConflictFields;
  const { base } = request.read.mutation;
  if (conflict.standing !== 'open')
    return refuse('not_a_conflict', `conflict ${held.state.id} is ${conflict.standing}`);
  if (base === undefined || !('rev' in base) || base.rev !== held.state.rev) {
    return refuse(
      'conflict_changed',
      `conflict ${held.state.id} stands at revision ${held.state.rev}; cite it as base`,
    );
  }
  const subject = world.get(conflict.subject);
  if (!subject) return refuse('record_missing', `the subject ${conflict.subject} of the conflict is not here`);
  const fault = unfit(subject, conflict, request.read.fields.value);
  if (fault) return fault;
  const id = derivedId(request.writer.client, 'resolution', String(request.read.mutation.mutationId));
  const resolution = resolutionRecord(request, held, conflict, id);
  const effect = effectOn(request, subject, conflict, id);
  return { outcome: 'applied', changes: [resolution, ...effect], seenRev: base.rev };
}

function resolutionRecord(request: Request, held: Held, conflict: ConflictFields, id: string): Change {
  const { mutation, fields } = request.read;
  const chosen = 'value' in fields ? { value: fields.value } : {};
  const reason = mutation.reason === undefined ? {} : { reason: mutation.reason };
  const state = {
    kind: 'resolution',
    id,
    rev: 1,
    voided: null,
    by: personOf(request),
    client: request.writer.client,
    mutation: mutation.mutationId,
    reason: mutation.reason ?? null,
    clock: request.clock,
    fields: {
      conflict: held.state.id,
      subject: conflict.subject,
      ...chosen,
      over: conflict.kept.map((rival) => rival.value ?? null),
      ...reason,
    },
  };
  const place = { feed: held.feed, parent: conflict.subject, visit: held.visit };
  return { held: { state, ...place, memory: null }, leaves: null, intent: null };
}

/** The value chosen must be one that the field may hold. */
function unfit(subject: Held, conflict: ConflictFields, value: unknown): NotTaken | null {
  if (conflict.type === 'void' && typeof value !== 'boolean') {
    return refuse('unreadable_record', 'value says whether the record is void: true or false', '/set/value');
  }
  const kind = kindNamed(subject.state.kind);
  if (conflict.field === undefined || !kind) return null;
  const read = readSet(kind, { [conflict.field]: value });
  return isUnreadable(read) ? refuse(read.code, read.detail, '/set/value') : null;
}

/** A clash of fields is decided by writing the value; a clash of claims leaves both claims as they were made. */
function effectOn(request: Request, subject: Held, conflict: ConflictFields, resolution: string): Change[] {
  const { value } = request.read.fields;
  const field = conflict.type === 'void' ? VOIDED : conflict.field;
  if (field === undefined) return [];
  const seen = { rev: subject.state.rev };
  return [changeRecord(request, subject, { seen, set: { [field]: value ?? null }, resolution, keepsFormer: true })];
}
