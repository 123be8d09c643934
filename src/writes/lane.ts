import { apply } from './apply.ts';
import type { Answer, Batch } from './batch.ts';
import { FirmMemories } from './firm-memories.ts';
import { prepareAhead } from './prepare-ahead.ts';
import type { WriteContext } from './try-group.ts';

/** The most mutations that share a transaction; a larger wait becomes several groups. */
const GROUP_MUTATIONS = 800;

interface Ticket {
  readonly batch: Batch;
  readonly resolve: (answer: Answer) => void;
  readonly reject: (error: unknown) => void;
}

interface Queue {
  readonly waiting: Ticket[];
  running: boolean;
}

/** Gives a batch its answer once it is applied. */
export type Lane = (batch: Batch) => Promise<Answer>;

/**
 * One lane a firm: batches that arrive while a transaction runs wait here and form the next group, so that the lock of
 * the firm costs nothing within a process. What is stored is the same as if each had come alone, in the order of arrival; an outcome may name a conflict
 * that a later batch of the group brought.
 */
export function openLane(write: WriteContext): Lane {
  const ctx: WriteContext = { ...write, memories: new FirmMemories() };
  const queues = new Map<string, Queue>();
  const prepare = prepareAhead();
  return (batch) =>
    new Promise((resolve, reject) => {
      const { firm } = batch.actor;
      const queue = queues.get(firm) ?? { waiting: [], running: false };
      queues.set(firm, queue);
      queue.waiting.push({ batch: { ...batch, arrivedMs: write.now().getTime() }, resolve, reject });
      if (queue.running) prepare(batch);
      else void run(ctx, firm, queue, () => queues.delete(firm));
    });
}

function nextGroup(waiting: Ticket[]): Ticket[] {
  let mutations = 0;
  const cut = waiting.findIndex((ticket, index) => {
    mutations += ticket.batch.lines.length;
    return index > 0 && mutations > GROUP_MUTATIONS;
  });
  return waiting.splice(0, cut < 0 ? waiting.length : cut);
}

async function run(ctx: WriteContext, firm: string, queue: Queue, done: () => void): Promise<void> {
  queue.running = true;
  while (queue.waiting.length > 0) await runGroup(ctx, firm, nextGroup(queue.waiting));
  queue.running = false;
  done();
}

/** Each is told as soon as it is known what became of it, and what one fails with to that one alone. */
async function runGroup(ctx: WriteContext, firm: string, tickets: readonly Ticket[]): Promise<void> {
  const untold = new Map(tickets.map((ticket) => [ticket.batch, ticket]));
  let fault: unknown = new Error('the write door lost an answer');
  try {
    await apply(ctx, firm, [...untold.keys()], (batch, settled) => {
      const ticket = untold.get(batch);
      untold.delete(batch);
      if ('error' in settled) ticket?.reject(settled.error);
      else ticket?.resolve(settled.answer);
    });
  } catch (error) {
    fault = error;
  }
  for (const ticket of untold.values()) ticket.reject(fault);
}
