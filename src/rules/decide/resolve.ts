import { withArticle } from '../../protocol/field-words.ts';
import { kindNamed } from '../../protocol/kinds-by-name.ts';
import { isUnreadable, readSet } from '../../protocol/read-mutation.ts';
import type { Held, World } from '../held.ts';
import { VOIDED } from '../merge/merge-memory.ts';
import { sameValue } from '../merge/register.ts';
import { resolutionId } from '../merge/resolution-id.ts';
import { wasReadable } from '../readable.ts';
import { changeRecord } from './change-record.ts';
import { type Change, type Decision, type NotTaken, refuse } from './decision.ts';
import { placeOf } from './home.ts';
import { moveVisit } from './move-visit.ts';
import { personOf, type Request } from './request.ts';

interface Rival {
  readonly value: unknown;
}

interface ConflictFields {
  readonly subject: string;
  readonly type: string;
  readonly field?: string;
  readonly standing: string;
  readonly shown: Rival;
  readonly kept: readonly Rival[];
}

/**
 * A person decides a conflict: the value named stands and is written like any other change, the rivals are listed in
 * the resolution. It cites the revision of the conflict that was looked at, so that a rival who came since is not lost.
 */
export function decideResolve(request: Request, held: Held, world: World): Decision {
  if (held.state.kind !== 'conflict')
    return refuse('not_a_conflict', `${held.state.id} is ${withArticle(held.state.kind)}`);
  const conflict = held.state.fields as unknown as ConflictFields;
  const { seen } = request;
  if (conflict.standing !== 'open')
    return refuse('not_a_conflict', `conflict ${held.state.id} is ${conflict.standing}`);
  // also where it is not known in what history its author looked: an equal number may mean other rivals
  if (seen === null || !('rev' in seen) || seen.rev !== held.state.rev) {
    return refuse(
      'conflict_changed',
      `conflict ${held.state.id} stands at revision ${held.state.rev}; look at it again, and cite that as base`,
    );
  }
  const subject = world.get(conflict.subject);
  if (!subject) return refuse('record_missing', `the subject ${conflict.subject} of the conflict is not here`);
  const fault = unfit(subject, conflict, request.read.fields.value, world) ?? nobodys(request, conflict);
  if (fault) return fault;
  const id = resolutionId(request.writer.client, request.read.mutation.mutationId);
  const effect = effectOn(request, subject, conflict, id, world);
  const resolution = resolutionRecord(request, held, conflict, id, effect[0]?.held.feed ?? held.feed);
  return { outcome: 'applied', changes: [resolution, ...effect], seenRev: seen.rev };
}

/** The values that the one chosen was chosen over; a clash of claims leaves both as they are, and lists the rivals. */
function chosenOver(conflict: ConflictFields, chosen: unknown): unknown[] {
  if (conflict.field === undefined && conflict.type !== 'void') return conflict.kept.map((one) => one.value);
  const values = [conflict.shown, ...conflict.kept].map((one) => one.value);
  const others = values.filter((value) => !sameValue(value, chosen));
  return others.filter((value, index) => others.findIndex((one) => sameValue(one, value)) === index);
}

function resolutionRecord(request: Request, held: Held, conflict: ConflictFields, id: string, feed: string): Change {
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
      over: chosenOver(conflict, fields.value),
      ...reason,
    },
  };
  const place = { feed, parent: conflict.subject, visit: held.visit };
  return { held: { state, ...place, memory: null }, leaves: null, intent: null };
}

/** What is shown or kept was read as it came, some of it from a version that knows more than this one. */
function wasGiven({ shown, kept }: ConflictFields, value: unknown): boolean {
  return [shown, ...kept].some((rival) => sameValue(rival.value, value));
}

/** A value that nobody gave stands only where the person says that it is none of theirs, and why. */
function nobodys({ read: { fields, mutation } }: Request, conflict: ConflictFields): NotTaken | null {
  if (conflict.field === undefined || wasGiven(conflict, fields.value)) return null;
  if (fields.neither === true && mutation.reason !== undefined) return null;
  const values = [conflict.shown, ...conflict.kept].map((rival) => JSON.stringify(rival.value ?? null));
  const detail =
    `${JSON.stringify(fields.value)} is none of the values of ${conflict.field} that are in conflict: ` +
    `${[...new Set(values)].join(', ')}. ` +
    (fields.neither === true
      ? 'Give the reason for it'
      : 'Choose one of them, or say "neither": true and give a reason');
  return refuse('unreadable_record', detail, fields.neither === true ? '/reason' : '/set/value');
}

/** The value chosen must be one that the field may hold, and a record that it names must be here. */
function unfit(subject: Held, conflict: ConflictFields, value: unknown, world: World): NotTaken | null {
  if (conflict.type === 'void' && typeof value !== 'boolean') {
    return refuse('unreadable_record', 'value says whether the record is void: true or false', '/set/value');
  }
  const kind = kindNamed(subject.state.kind);
  const { field } = conflict;
  if (field === undefined || !kind) return null;
  if (value === undefined)
    return refuse('unreadable_record', `value is missing: what stands as ${field}`, '/set/value');
  const read = readSet(kind, { [field]: value });
  const fits = wasGiven(conflict, value) && wasReadable(subject.state, field, value);
  if (!fits && isUnreadable(read)) return refuse(read.code, read.detail, '/set/value');
  const named = kind.references[field];
  if (named === undefined || typeof value !== 'string' || world.get(value)?.state.kind === named) return null;
  return refuse('record_missing', `${field} names ${value}, which is no ${named} of this firm`, '/set/value');
}

/** A clash of fields is decided by writing the value; a clash of claims leaves both claims as they were made. */
function effectOn(
  request: Request,
  subject: Held,
  conflict: ConflictFields,
  resolution: string,
  world: World,
): Change[] {
  const { value } = request.read.fields;
  const field = conflict.type === 'void' ? VOIDED : conflict.field;
  if (field === undefined) return [];
  const seen = { rev: subject.state.rev };
  const set = { [field]: value };
  const change = changeRecord(request, subject, { seen, set, resolution, keepsFormer: true });
  const kind = kindNamed(subject.state.kind);
  if (kind?.name === 'visit' && (field === 'well' || field === 'event')) {
    return moveVisit(request, subject, change, set, world);
  }
  if (kind?.home.in !== 'parent' || kind.home.field !== field) return [change];
  const place = placeOf(kind, subject.state.id, change.held.state.fields, world);
  return [{ ...change, held: { ...change.held, ...place } }];
}
