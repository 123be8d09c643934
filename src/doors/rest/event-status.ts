import { z } from 'zod';
import type { Context } from '../../context.ts';
import { date, id } from '../../protocol/primitives.ts';
import { eventStatus } from '../../reads/event-status.ts';
import { WELL_STANDINGS } from '../../reads/event-status-result.ts';
import { EVERY_ROLE } from '../authenticate.ts';
import { OPEN_FLAGS } from '../flag-reach.ts';
import type { Api } from './api.ts';
import { count, idParams } from './list-shapes.ts';
import { answer, problems } from './problem-docs.ts';

const utc = z.iso.datetime({ precision: null });
const named = z.strictObject({ id, name: z.string() });

const setAside = z.strictObject({
  waiting: count.describe('For another record to arrive'),
  forAPerson: count,
  refused: count.describe('They mean nothing, and are only kept'),
});

const well = z.strictObject({
  id,
  name: z.string(),
  planned: z.boolean().describe('A crew was assigned to it, not only at work there'),
  toSample: z.boolean().describe('Samples are expected, not only a level'),
  assignedTo: z.array(named),
  standing: z.enum(WELL_STANDINGS),
  since: utc.nullable().describe('When this standing began; for stable, when the criteria were first met'),
  crew: named.nullable().describe('At work there, or the last that was'),
  claimedBy: z.array(named),
  visit: id.nullable(),
  purge: id.nullable(),
  outcome: z.string().nullable().describe('How the visit ended'),
  outcomeReason: z.string().nullable(),
  samples: count,
  openFlags: count,
});

const inTouch = {
  lastPush: utc.nullable(),
  lastPull: utc.nullable(),
  unsentCount: count.nullable().describe('What it said at its last push that it still held'),
  unsentOldest: utc.nullable(),
  clockDifferenceMs: z.int().nullable().describe('Server time minus device time, at the last push'),
  setAside,
} as const;

const cameBackAt = utc
  .nullable()
  .describe('When it came back with an older memory than the server has of it, or as one of two on a copy');

const totals = z.strictObject({
  wells: z.strictObject({
    planned: count,
    unplanned: count.describe('Visited or claimed without an assignment'),
    notStarted: count,
    claimed: count,
    gauging: count,
    purging: count,
    stable: count,
    sampled: count,
    ended: count.describe('Otherwise: dry, not stable, no access ...'),
  }),
  visits: count,
  samples: count,
  openFlags: count.describe(OPEN_FLAGS),
  openConflicts: count,
  unsent: count,
  setAside,
});

/** How an event stands, as it is given out. */
export const eventStatusShape = z
  .strictObject({
    event: z.strictObject({ id, name: z.string(), standing: z.string(), starts: date, ends: date }),
    site: z.strictObject({ id, name: z.string(), timeZone: z.string() }),
    totals,
    wells: z.array(well),
    crews: z.array(
      z.strictObject({
        id,
        name: z.string(),
        ...inTouch,
        devices: z.array(z.strictObject({ id, label: z.string(), ...inTouch, cameBackAt })),
      }),
    ),
    flags: z.array(z.strictObject({ addressee: z.string(), severity: z.string(), count })),
    conflicts: z.array(z.strictObject({ type: z.string(), certainty: z.string(), count })),
  })
  .meta({ id: 'EventStatus', description: 'How an event stands. Times in UTC' });

/** GET /events/ID/status. */
export function eventStatusRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'getEventStatus',
    summary: 'How an event stands',
    description: 'Where each well stands, when each crew was last in touch, and what is open. The same as in GraphQL.',
    tags: ['question'],
    params: idParams,
    response: { 200: answer('How it stands', eventStatusShape), ...problems('record_missing') },
  };
  api.get('/events/:id/status', { schema, config: { access: EVERY_ROLE } }, async (request, reply) => {
    const status = await eventStatus(ctx.pool, request.actor, request.params.id);
    // sent as text: the answer is typed by the compiler, and to check it again would cost as much as to find it
    return reply.type('application/json').send(JSON.stringify(status) as never);
  });
}
