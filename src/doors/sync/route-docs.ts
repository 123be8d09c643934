import { z } from 'zod';
import type { Code } from '../../protocol/codes.ts';
import { feedList, feedPage, pushAnswer, verifyBuckets } from '../../protocol/sync.ts';
import { answer, problems } from '../rest/problem-docs.ts';

const tags = ['sync'];
const feedParams = z.strictObject({ feed: z.string() });

const PUSH_CODES: readonly Code[] = [
  'unreadable_json',
  'unreadable_text',
  'cut_short',
  'too_large',
  'unsupported_media',
  'mutation_gap',
  'mutation_reused',
  'client_of_other',
  'reset_required',
];

const pushLines = z
  .string()
  .describe('Newline-delimited JSON: a header {client, schemaVersion, first, count ...}, then one mutation a line');

const liveEvents = z
  .string()
  .describe(
    'Events `tail` with {"feed", "tail"} as data: first where each feed ends now, then each time that one has gone on; ' +
      'an event `end` with a reason before the server ends the stream; comments keep the line open',
  );

/** How the routes of the sync door are described. They read what they are given themselves, byte for byte. */
export const syncDocs = {
  push: {
    operationId: 'push',
    summary: 'Hand in mutations, in the order in which they were made',
    description: 'Answered mutation by mutation; a bad one sinks no other, and a repeated push gets the same outcomes.',
    tags,
    consumes: ['application/x-ndjson'],
    querystring: z.strictObject({
      carried: z.enum(['true', 'false']).optional().describe('A copy of the outbox of another device'),
    }),
    body: pushLines,
    response: { 200: answer('What became of each', pushAnswer), ...problems(...PUSH_CODES) },
  },
  feeds: {
    operationId: 'listFeeds',
    summary: 'The feeds that you follow, and how far they have come',
    tags,
    response: { 200: answer('The feeds', feedList), ...problems() },
  },
  rows: {
    operationId: 'pull',
    summary: 'A page of a feed, from a cursor on',
    tags,
    params: feedParams,
    response: { 200: answer('A page', feedPage), ...problems('not_found', 'reset_required') },
  },
  stream: {
    operationId: 'streamTails',
    summary: 'Live: which feeds have gone on',
    description:
      'Server-sent events, for requests that accept text/event-stream. They say that there is news and where; the news ' +
      'are pulled. Whoever comes back is told first where each feed is, so nothing is missed.',
    tags,
    response: {
      200: { description: 'Events, without an end', content: { 'text/event-stream': { schema: liveEvents } } },
      ...problems('not_found', 'not_acceptable'),
    },
  },
  verify: {
    operationId: 'verifyFeed',
    summary: 'Count and hash of the records of a feed by the digits of their ids',
    description: 'A replica that disagrees bisects until it finds the record.',
    tags,
    params: feedParams,
    response: { 200: answer('The buckets', verifyBuckets), ...problems('not_found') },
  },
} as const;
