import type { PushHeader } from '../protocol/sync.ts';
import { type Batch, nextBatch, versionOf } from './batch.ts';
import type { ClientContext } from './context.ts';
import type { CarriedEntry, Change } from './store.ts';
import { type Answer, NO_ANSWER, type Problem, type PushAnswer } from './transport.ts';

export interface CarriedPush {
  /** Mutations of other phones that the server answered here for the first time. */
  readonly pushed: number;
  /** Those that it has not answered yet. */
  readonly unanswered: number;
  /** Why some stay; null when none do. */
  readonly problem: Problem | null;
}

function ofClient(carried: readonly CarriedEntry[], client: string): CarriedEntry[] {
  return carried.filter((entry) => entry.client === client).sort((a, b) => a.mutationId - b.mutationId);
}

/** What was not answered; or else the last line once more, to learn how much of that client's work is safe. */
function batchFor(own: readonly CarriedEntry[], client: string, maxLines: number): Batch<CarriedEntry> | null {
  const last = own.at(-1);
  return (
    nextBatch(own, client, maxLines) ??
    (last ? { first: last.mutationId, schemaVersion: versionOf(last), entries: [last] } : null)
  );
}

/** The clocks are not given: those of this phone say nothing of the one that captured the lines. */
function send({ transport }: ClientContext, client: string, batch: Batch<CarriedEntry>): Promise<Answer<PushAnswer>> {
  const { first, schemaVersion, entries } = batch;
  const header: PushHeader = { client, schemaVersion, first, count: entries.length };
  return transport.push([JSON.stringify(header), ...entries.map((entry) => entry.line), ''].join('\n'), true);
}

/** Notes the answers, and lets go of what survives the loss of the server's database. */
function note(context: ClientContext, batch: Batch<CarriedEntry>, answer: PushAnswer): Promise<number> {
  return context.exclusive(async () => {
    const { store } = context;
    const client = batch.entries[0]?.client ?? '';
    const said = new Map(answer.outcomes.map((outcome) => [outcome.mutationId, outcome]));
    const heard = ofClient(await store.carried(), client).map((entry) => ({
      before: entry,
      outcome: entry.outcome ?? said.get(entry.mutationId) ?? null,
    }));
    const changes = heard.flatMap(({ before, outcome }): Change[] => {
      const { mutationId } = before;
      if (outcome !== null && mutationId <= answer.durable) return [{ drop: 'carried', client, mutationId }];
      return outcome === before.outcome ? [] : [{ put: 'carried', carried: { ...before, outcome } }];
    });
    if (changes.length > 0) await store.commit(changes);
    return heard.filter(({ before, outcome }) => before.outcome === null && outcome !== null).length;
  });
}

/** The server was set back to before these: they count as unanswered again. */
function forget(context: ClientContext, client: string, from: number): Promise<void> {
  return context.exclusive(async () => {
    const lost = ofClient(await context.store.carried(), client).filter((entry) => entry.mutationId >= from);
    await context.store.commit(lost.map((entry): Change => ({ put: 'carried', carried: { ...entry, outcome: null } })));
  });
}

/** All that is carried of one client, in requests of the usual size. */
async function pushClient(context: ClientContext, client: string): Promise<Omit<CarriedPush, 'unanswered'>> {
  let pushed = 0;
  let forgotten = false;
  for (;;) {
    const own = ofClient(await context.store.carried(), client);
    const batch = batchFor(own, client, context.line.pushMutations);
    if (!batch) return { pushed, problem: null };
    const answer = await send(context, client, batch);
    if (answer.ok) {
      const heard = await note(context, batch, answer.value);
      pushed += heard;
      if (heard === 0) return { pushed, problem: null };
      continue;
    }
    const { code, expected } = answer.problem;
    if (code !== 'mutation_gap' || expected === null || expected >= batch.first || forgotten) {
      return { pushed, problem: answer.problem };
    }
    // What the server wants is before what it was offered: it was set back since it answered.
    forgotten = true;
    await forget(context, client, expected);
  }
}

export async function carriedUnanswered({ store }: ClientContext): Promise<number> {
  return (await store.carried()).filter((entry) => entry.outcome === null).length;
}

/**
 * Hands in what is carried of other phones. What the other phone has handed in itself meanwhile is known by its bytes
 * and has no second effect. A line stays here until the server names it as safe, as it does on the phone that it is of.
 */
export async function pushCarried(context: ClientContext): Promise<CarriedPush> {
  const clients = [...new Set((await context.store.carried()).map((entry) => entry.client))].sort();
  let pushed = 0;
  let problem: Problem | null = null;
  for (const client of clients) {
    const done = await pushClient(context, client);
    pushed += done.pushed;
    problem ??= done.problem;
    if (done.problem?.code === NO_ANSWER) break;
  }
  return { pushed, unanswered: await carriedUnanswered(context), problem };
}
