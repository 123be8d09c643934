import { withArticle } from '../../protocol/field-words.ts';
import type { Held, World } from '../held.ts';
import { decideAmend } from './amend.ts';
import { withCarrier } from './carried.ts';
import { type Decision, refuse, setAside } from './decision.ts';
import { rightInFeeds, withEnd } from './event-right.ts';
import { placeOf } from './home.ts';
import { decideRecord } from './record.ts';
import { checkReferences } from './references.ts';
import { decideRehome } from './rehome.ts';
import type { Request } from './request.ts';
import { decideResolve } from './resolve.ts';
import { decideVoid } from './void.ts';

function mayWrite(request: Request): boolean {
  const { kind, mutation } = request.read;
  if (mutation.verb === 'resolve') return request.writer.role === 'coordinator' || request.writer.role === 'admin';
  return kind.writers.includes(request.writer.role);
}

/** The record that a change is about, or why it cannot be changed. */
function target(request: Request, world: World): Held | Decision {
  const { mutation, kind } = request.read;
  const held = world.get(mutation.id);
  if (!held) return setAside('parent_missing', `${kind.name} ${mutation.id} is not here yet`, [mutation.id]);
  if (held.state.kind === kind.name) return held;
  return refuse(
    'kind_differs',
    `${mutation.id} is ${withArticle(held.state.kind)}, not ${withArticle(kind.name)}`,
    '/kind',
  );
}

/** The feeds that a mutation writes into: where the record lives, and the event that a visit is moved to. */
function feedsOf({ read }: Request, held: Held | null, world: World): (string | undefined)[] {
  const { kind, mutation, fields } = read;
  if (held === null) return [placeOf(kind, mutation.id, fields, world).feed];
  const to = mutation.verb === 'rehome' && typeof fields.event === 'string' ? world.get(fields.event)?.feed : undefined;
  return [held.feed, to];
}

function decideChange(request: Request, held: Held, world: World): Decision {
  switch (request.read.mutation.verb) {
    case 'amend':
      return decideAmend(request, held, world);
    case 'void':
      return decideVoid(request, held);
    case 'rehome':
      return decideRehome(request, held, world);
    case 'resolve':
      return decideResolve(request, held, world);
    default:
      throw new Error(`${request.read.mutation.verb} changes no record that is here`);
  }
}

/**
 * Decides what becomes of one mutation, against everything decided before it. Pure: what it changes is in the answer.
 *
 * @returns the records as they stand after it, or why it was not taken
 */
export function decide(request: Request, world: World): Decision {
  const { mutation, kind } = request.read;
  // it names no record; whoever releases a release that was set aside means what that one names
  if (mutation.verb === 'release') {
    return refuse('not_set_aside', `a release is not released itself; release ${mutation.id}, which it names`, '/id');
  }
  if (!mayWrite(request)) {
    return setAside('right_missing', `the role ${request.writer.role} may not write ${withArticle(kind.name)}`);
  }
  const notYet = checkReferences(request.read, world);
  if (notYet) return notYet;
  const held = mutation.verb === 'record' ? null : target(request, world);
  if (held && 'outcome' in held) return held;
  const feeds = feedsOf(request, held, world);
  const right = rightInFeeds(request.rightIn ?? null, feeds);
  if (right && 'outcome' in right) return right;
  const decision = held ? decideChange(request, held, world) : decideRecord(request, world);
  return withCarrier(withEnd(decision, right), request.carrier ?? null, feeds);
}
