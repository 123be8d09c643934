import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { Context } from '../../context.ts';
import { id } from '../../protocol/primitives.ts';
import { Problem } from '../../protocol/problem.ts';
import { LiveHub } from '../../reads/live/hub.ts';
import type { FeedTails } from '../../reads/live/look.ts';
import { streamTails } from '../../reads/live/stream-tails.ts';
import { EVERY_ROLE } from '../authenticate.ts';
import { leaveInFlight } from '../in-flight.ts';
import { EventStream } from './event-stream.ts';
import type { LiveStream } from './live-stream.ts';
import { LiveStreams, STREAM_SETTINGS, type StreamSettings } from './live-streams.ts';
import { parseQuery } from './parse-query.ts';
import { syncDocs } from './route-docs.ts';

/** Phones that lost a server together come back spread over this time. */
const RETRY_MS = { least: 1_000, most: 5_000 };

const streamQuery = z.strictObject({
  feeds: z
    .string()
    .max(7_000)
    .optional()
    .describe('Names of feeds, with commas between them; without it all that you follow, also those of tomorrow'),
  client: id.optional().describe('The installation that asks: a newer stream of it ends the older one'),
});

export interface StreamOptions {
  readonly settings?: Partial<StreamSettings>;
  /** A chance between 0 and 1. */
  readonly random: () => number;
}

function mustTakeEvents({ headers }: FastifyRequest): void {
  if (/\btext\/event-stream\b/i.test(headers.accept ?? '')) return;
  throw new Problem('not_acceptable', 'live news come as text/event-stream, which the header Accept does not name');
}

function namesIn(feeds: string | undefined): ReadonlySet<string> | null {
  return feeds === undefined ? null : new Set(feeds.split(',').filter(Boolean));
}

/** The headers that every answer has; an answer that goes on is written past the framework. */
function headersOf(reply: FastifyReply): Record<string, string> {
  const given = Object.entries(reply.getHeaders()).map(([name, value]) => [name, String(value)]);
  return { ...Object.fromEntries(given), 'x-request-id': reply.request.id };
}

function begin(reply: FastifyReply, streams: LiveStreams, stream: LiveStream, tails: FeedTails, retryMs: number): void {
  if (stream.closed) throw new Problem('busy', 'the stream was ended before it began: another took its place');
  // from here on it is bounded by the limits of streams, and no request in work
  leaveInFlight(reply.request);
  const headers = headersOf(reply);
  reply.hijack();
  const events = new EventStream(reply.raw, performance.now());
  reply.raw.on('close', () => stream.close());
  reply.raw.on('error', () => stream.close());
  if (reply.raw.closed) {
    stream.close();
    return;
  }
  events.begin(headers, retryMs);
  streams.open(stream, events, tails);
}

/** GET /stream: server-sent events that say which feed has gone on, and to where; what is new is pulled. */
export function streamRoute(app: FastifyInstance, ctx: Context, { settings, random }: StreamOptions): void {
  const { pool, now } = ctx;
  const all = { ...STREAM_SETTINGS, ...settings };
  const { lookEveryMs, believedMs } = all;
  const hub = new LiveHub({ pool, now, log: app.log, lookEveryMs, believedMs });
  const streams = new LiveStreams(hub, all);
  const between = ({ least, most }: { least: number; most: number }) => least + random() * (most - least);
  // an answer that never ends would keep the server from closing
  app.addHook('preClose', () => streams.close());
  const schema = { ...syncDocs.stream, querystring: streamQuery };
  const config = { access: EVERY_ROLE };
  app.get('/stream', { config, schema, exposeHeadRoute: false }, async (request, reply) => {
    const { feeds, client = null } = parseQuery(streamQuery, request.query);
    mustTakeEvents(request);
    // whoever is refused for want of room, or cannot be served yet, does not come back with all others at once
    reply.header('retry-after', String(Math.ceil(between(RETRY_MS) / 1_000)));
    const stream = streams.admit(request.actor, namesIn(feeds), client);
    try {
      const tails = await streamTails(pool, request.actor, stream.named);
      reply.removeHeader('retry-after');
      begin(reply, streams, stream, tails, between(RETRY_MS));
    } catch (error) {
      stream.close();
      throw error;
    }
  });
}
