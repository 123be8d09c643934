import type { FastifyRequest } from 'fastify';
import type { Problem } from '../protocol/problem.ts';

/** What a phone echoes of the past is not what the database has: it was set back, or somebody rewrote it. */
const ALARMING: Readonly<Record<string, string>> = {
  other_history: 'a phone has seen another history of this feed: it was set back or rewritten',
  future: 'a phone has seen rows of this feed that are not there: it was set back or cut short',
};

/**
 * The phone recovers by itself and goes on; whoever runs the server must hear of it, for what was rewritten may have
 * been evidence. `verify` then says whether the history that is there is whole.
 */
export function alarmOf(request: FastifyRequest, { code, members }: Problem): void {
  const message = code === 'reset_required' ? ALARMING[String(members.reason)] : undefined;
  if (message === undefined) return;
  const { firm, token, device } = request.actor;
  const { client = null } = request.query as { client?: string };
  request.log.warn({ alarm: members.reason, firm, feed: members.feed, token, device, client }, message);
}
