import type { PushHeader } from '../protocol/sync.ts';
import { askFeeds } from './ask-feeds.ts';
import { coversOf } from './base-anew.ts';
import { type Batch, nextBatch, versionOf } from './batch.ts';
import { type CarryAnew, carriedBefore, carryAnew, mutationIn } from './carry-anew.ts';
import { type CitingBatch, cutToSeen, linesOfOneHistory } from './cited-feeds.ts';
import type { ClientContext } from './context.ts';
import { seenHeader, waitsForVersion } from './seen-header.ts';
import type { CarriedEntry, Change } from './store.ts';
import { type Answer, isReset, NO_ANSWER, type Problem, type PushAnswer } from './transport.ts';

export interface CarriedPush {
  /** Mutations of other phones that the server answered here for the first time. */
  readonly pushed: number;
  /** Of those that it set aside or refused: a person has to look at them. */
  readonly notTaken: number;
  /** Those that it has not answered yet. */
  readonly unanswered: number;
  /**
   * Those numbered anew, since the replacement of their phone has used their numbers for other work, or since the data
   * was set back and the revisions that they cite may stand for other changes.
   */
  readonly renumbered: number;
  /** Why some stay; null when none do. */
  readonly problem: Problem | null;
}

/** Whether a line waits until it is known what its header may hold. */
type Waits = (entry: CarriedEntry) => boolean;

function ofClient(carried: readonly CarriedEntry[], client: string): CarriedEntry[] {
  return carried.filter((entry) => entry.client === client).sort((a, b) => a.mutationId - b.mutationId);
}

/** Numbers of values that lines without an answer lay over: should they be numbered anew, their revisions matter. */
function citedBy(unanswered: readonly CarriedEntry[], own: readonly CarriedEntry[]): ReadonlySet<number> {
  return new Set(
    unanswered.flatMap((entry) => {
      const mutation = mutationIn(entry);
      if (mutation === null) return [];
      const covers = coversOf(mutation, carriedBefore(entry, mutation.id, own));
      return covers.flatMap(([, line]) => (line ? [line.entry.mutationId] : []));
    }),
  );
}

/** Up to the first line that waits: numbers are dense. */
function sayable(own: readonly CarriedEntry[], waits: Waits): readonly CarriedEntry[] {
  const at = own.findIndex(waits);
  return at < 0 ? own : own.slice(0, at);
}

/** What was not answered; or else the last line once more, to learn how much of that client's work is safe. */
function batchFor(own: readonly CarriedEntry[], client: string, maxLines: number): Batch<CarriedEntry> | null {
  const last = own.at(-1);
  return (
    nextBatch(own, client, maxLines) ??
    (last ? { first: last.mutationId, schemaVersion: versionOf(last), entries: [last] } : null)
  );
}

function seenOf({ seen = [] }: CarriedEntry): readonly string[] {
  return seen;
}

/**
 * Where their own phone saw what the lines cite. Also of those that were answered: the server may have been set back to
 * before them since.
 */
function citing(batch: Batch<CarriedEntry>): Promise<CitingBatch<CarriedEntry>> {
  return cutToSeen(batch, seenOf);
}

/** The clocks are not given: those of this phone say nothing of the one that captured the lines. */
function send(context: ClientContext, client: string, batch: CitingBatch<CarriedEntry>): Promise<Answer<PushAnswer>> {
  const { transport, line } = context;
  const { first, schemaVersion, entries } = batch;
  const header: PushHeader = { client, schemaVersion, first, count: entries.length, ...seenHeader(line, batch) };
  return transport.push([JSON.stringify(header), ...entries.map((entry) => entry.line), ''].join('\n'), true);
}

type Heard = Pick<CarriedPush, 'pushed' | 'notTaken'>;

function isNotTaken(outcome: CarriedEntry['outcome']): boolean {
  return outcome?.outcome === 'set_aside' || outcome?.outcome === 'refused';
}

/** Notes the answers, and lets go of what survives the loss of the server's database. */
function note(context: ClientContext, batch: Batch<CarriedEntry>, answer: PushAnswer): Promise<Heard> {
  return context.exclusive(async () => {
    const { store } = context;
    const client = batch.entries[0]?.client ?? '';
    const said = new Map(answer.outcomes.map((outcome) => [outcome.mutationId, outcome]));
    const own = ofClient(await store.carried(), client);
    const heard = own.map((entry) => ({
      before: entry,
      outcome: entry.outcome ?? said.get(entry.mutationId) ?? null,
    }));
    const cited = citedBy(
      heard.flatMap(({ before, outcome: told }) => (told === null ? [before] : [])),
      own,
    );
    const changes = heard.flatMap(({ before, outcome }): Change[] => {
      const { mutationId } = before;
      const isSafe = outcome !== null && mutationId <= answer.durable && !cited.has(mutationId);
      if (isSafe) return [{ drop: 'carried', client, mutationId }];
      return outcome === before.outcome ? [] : [{ put: 'carried', carried: { ...before, outcome } }];
    });
    if (changes.length > 0) await store.commit(changes);
    const fresh = heard.filter(({ before, outcome }) => before.outcome === null && outcome !== null);
    return { pushed: fresh.length, notTaken: fresh.filter(({ outcome }) => isNotTaken(outcome)).length };
  });
}

/** The server was set back to before these: they count as unanswered again. False where none was answered. */
function forget(context: ClientContext, client: string, from: number): Promise<boolean> {
  return context.exclusive(async () => {
    const carried = ofClient(await context.store.carried(), client);
    const lost = carried.filter(({ mutationId, outcome }) => mutationId >= from && outcome !== null);
    await context.store.commit(lost.map((entry): Change => ({ put: 'carried', carried: { ...entry, outcome: null } })));
    return lost.length > 0;
  });
}

/** From this number on, what the copy has goes by another client id. @returns how many lines */
function sayAnew(context: ClientContext, client: string, first: number, why?: CarryAnew): Promise<number> {
  return context.exclusive(async () => {
    const changes = carryAnew(await context.store.carried(), client, first, why);
    if (changes.length > 0) await context.store.commit(changes);
    return changes.filter((change) => 'drop' in change).length;
  });
}

type Pushed = Omit<CarriedPush, 'unanswered'>;

/** From where what was answered counts as unanswered again; null where the problem is another one. */
function setBackTo({ code, expected }: Problem, batch: Batch<CarriedEntry>): number | null {
  if (code === 'mutation_gap' && expected !== null && expected < batch.first) return expected;
  return code === 'mutation_reused' ? 1 : null;
}

/** How many of the lines come before the one whose number was used for other work; half where no number is named. */
function linesBefore({ mutation }: Problem, { first, entries }: Batch<CarriedEntry>): number {
  const before = mutation === null ? Math.floor(entries.length / 2) : mutation - first;
  return before < entries.length ? Math.max(0, before) : 0;
}

/** How often one sync numbers anew before the rest is left to the next one: a bound, so that nothing spins. */
const MOST_ANEW = 16;

/** All that is carried of one client, in requests of the usual size. */
async function pushClient(context: ClientContext, client: string, waits: Waits): Promise<Pushed> {
  let [pushed, notTaken, renumbered, forgotten, most] = [0, 0, 0, false, context.line.pushMutations];
  for (;;) {
    const own = ofClient(await context.store.carried(), client);
    const lines = batchFor(sayable(own, waits), client, most);
    if (!lines) return { pushed, notTaken, renumbered, problem: null };
    const batch = await citing(lines);
    const answer = await send(context, client, batch);
    if (answer.ok) {
      const heard = await note(context, batch, answer.value);
      pushed += heard.pushed;
      notTaken += heard.notTaken;
      if (heard.pushed === 0) return { pushed, notTaken, renumbered, problem: null };
      continue;
    }
    const { problem } = answer;
    const from = setBackTo(problem, batch);
    if (from !== null && !forgotten) {
      // What the server wants or refuses is before what it was offered, or may be: it was set back since it answered.
      forgotten = true;
      if (await forget(context, client, from)) continue;
    }
    if (isReset(problem) && problem.lastMutation !== null) {
      // under their own numbers, by which an earlier copy at another partner's is known again
      const before = linesOfOneHistory(batch, problem.lastMutation, seenOf);
      if (before > 0) {
        most = before;
        continue;
      }
      const anew = await sayAnew(context, client, problem.lastMutation + 1, 'other-history');
      renumbered += anew;
      // what the server has of it gets its answers all the same
      if (anew > 0) continue;
    }
    if (problem.code !== 'mutation_reused') return { pushed, notTaken, renumbered, problem };
    most = linesBefore(problem, batch);
    if (most > 0) continue;
    const anew = await sayAnew(context, client, batch.first);
    return { pushed, notTaken, renumbered: renumbered + anew, problem: anew > 0 ? null : problem };
  }
}

/**
 * What a header may hold follows from the version of the server, which a phone without own work has not asked for yet.
 * A token that may not ask any more (401) may push still: what it hands in is refused, or kept for a person.
 */
async function learnVersion(
  context: ClientContext,
): Promise<{ readonly waits: Waits; readonly problem: Problem | null }> {
  const waits: Waits = (entry) => waitsForVersion(context.line, entry);
  if (!(await context.store.carried()).some(waits)) return { waits: () => false, problem: null };
  const answer = await askFeeds(context);
  if (answer.ok || answer.problem.status === 401) return { waits: () => false, problem: null };
  return { waits, problem: answer.problem };
}

export async function carriedUnanswered({ store }: ClientContext): Promise<number> {
  return (await store.carried()).filter((entry) => entry.outcome === null).length;
}

/**
 * Hands in what is carried of other phones. What the other phone has handed in itself meanwhile is known by its bytes
 * and has no second effect. A line stays here until the server names it as safe, as it does on the phone that it is of.
 */
export async function pushCarried(context: ClientContext): Promise<CarriedPush> {
  const tried = new Set<string>();
  let [pushed, notTaken, renumbered, anew] = [0, 0, 0, 0];
  const { waits, problem: unknown } = await learnVersion(context);
  let problem = unknown;
  while (problem?.code !== NO_ANSWER && anew < MOST_ANEW) {
    // looked up each time: lines that were numbered anew are of a client that was not carried before
    const client = (await context.store.carried())
      .map((entry) => entry.client)
      .sort()
      .find((one) => !tried.has(one));
    if (client === undefined) break;
    tried.add(client);
    const done = await pushClient(context, client, waits);
    pushed += done.pushed;
    notTaken += done.notTaken;
    renumbered += done.renumbered;
    anew += done.renumbered > 0 ? 1 : 0;
    problem = done.problem?.code === NO_ANSWER ? done.problem : (problem ?? done.problem);
  }
  return { pushed, notTaken, renumbered, unanswered: await carriedUnanswered(context), problem };
}
