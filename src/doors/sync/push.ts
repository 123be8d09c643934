import type { FastifyInstance } from 'fastify';
import type { Context } from '../../context.ts';
import { LIMITS } from '../../protocol/limits.ts';
import { Problem } from '../../protocol/problem.ts';
import type { Answer, Batch } from '../../writes/batch.ts';
import { refuseOtherContentTypes } from '../other-content-types.ts';
import { readPush } from './read-push.ts';
import { syncDocs } from './route-docs.ts';

function otherHistory({ feed, reason, lastMutation }: Extract<Answer, { status: 'other_history' }>): Problem {
  const detail =
    `the lines name revisions that were seen in another history of ${feed ?? 'a feed'} than the one here (${reason}); ` +
    'nothing was applied: pull that feed anew, and say the lines again with what was on the screen as their base';
  return new Problem('reset_required', detail, { reason, lastMutation, ...(feed === null ? {} : { feed }) });
}

export function refused(answer: Exclude<Answer, { status: 'answered' }>, batch: Batch): Problem {
  if (answer.status === 'gap') {
    const detail = `the push begins at ${batch.first}, the server expects ${answer.expected}`;
    return new Problem('mutation_gap', detail, { expected: answer.expected, client: batch.client });
  }
  if (answer.status === 'reused') {
    const detail = `mutation ${answer.mutation} was received before with other bytes`;
    return new Problem('mutation_reused', detail, { mutation: answer.mutation, client: batch.client });
  }
  if (answer.status === 'other_history') return otherHistory(answer);
  const { mutation } = answer;
  const detail = `client ${batch.client} belongs to another device, and mutation ${mutation} was not received`;
  return new Problem('client_of_other', detail, { mutation, client: batch.client });
}

/** The answer as text: the outcomes go into it byte for byte as they were stored. */
function body(ctx: Context, batch: Batch, answer: Extract<Answer, { status: 'answered' }>): string {
  const { lastMutation } = answer;
  const durable = ctx.replicated ? lastMutation : answer.durable;
  const head = `{"client":"${batch.client}","lastMutation":${lastMutation},"durable":${durable}`;
  return `${head},"serverTime":"${ctx.now().toISOString()}","outcomes":[${answer.outcomes.join(',')}]}`;
}

/** POST /push: newline-delimited JSON, a header and one mutation a line; answered mutation by mutation. */
export function pushRoute(app: FastifyInstance, ctx: Context): void {
  app.addContentTypeParser(
    'application/x-ndjson',
    { parseAs: 'buffer', bodyLimit: LIMITS.pushBytes },
    (_request, payload, done) => done(null, payload),
  );
  refuseOtherContentTypes(app, 'application/x-ndjson');
  app.post<{ Body: Buffer; Querystring: { carried?: string } }>(
    '/push',
    {
      bodyLimit: LIMITS.pushBytes,
      config: { access: ['crew', 'coordinator', 'admin'], revokedToo: true },
      schema: syncDocs.push,
    },
    async (request, reply) => {
      if (!Buffer.isBuffer(request.body)) throw new Problem('unsupported_media', 'a push is application/x-ndjson');
      const batch = readPush(request.body, request.actor, request.query.carried === 'true');
      const answer = await ctx.lane(batch);
      if (answer.status !== 'answered') throw refused(answer, batch);
      return reply.type('application/json').send(body(ctx, batch, answer));
    },
  );
}
