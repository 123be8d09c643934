import type { PushHeader } from '../protocol/sync.ts';
import type { CitingBatch } from './cited-feeds.ts';
import { type ClientContext, identityOf } from './context.ts';
import { seenHeader } from './seen-header.ts';
import type { Answer, PushAnswer } from './transport.ts';
import { unsentOf } from './unsent.ts';

async function headerOf(context: ClientContext, batch: CitingBatch): Promise<PushHeader> {
  const { store, time, line } = context;
  const { client } = await identityOf(store);
  const sending = new Set(batch.entries.map((entry) => entry.mutationId));
  const staying = (await store.outbox()).filter((entry) => entry.client !== client || !sending.has(entry.mutationId));
  const wall = time.wall();
  const { count, oldest } = unsentOf(staying, wall);
  return {
    client,
    schemaVersion: batch.schemaVersion,
    first: batch.first,
    count: batch.entries.length,
    sent: { wall, monotonicMs: Math.max(0, Math.floor(time.monotonicMs())), boot: time.boot },
    ...(line.roundTripMs === null ? {} : { roundTripMs: line.roundTripMs }),
    pending: { count, oldest },
    ...seenHeader(line, batch),
  };
}

/** Sends the stored texts as they are, so that a repetition is the same to the byte. */
export async function sendBatch(context: ClientContext, batch: CitingBatch): Promise<Answer<PushAnswer>> {
  const header = JSON.stringify(await headerOf(context, batch));
  const body = [header, ...batch.entries.map((entry) => entry.line), ''].join('\n');
  const beganMs = context.time.monotonicMs();
  const answer = await context.transport.push(body);
  if (answer.ok) context.line.roundTripMs = Math.max(0, Math.round(context.time.monotonicMs() - beganMs));
  return answer;
}
