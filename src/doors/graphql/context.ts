import type { Context } from '../../context.ts';
import type { Actor } from '../../writes/batch.ts';
import type { Reads } from './reads.ts';

/** What the resolvers of one request stand on; made anew for each, so that nothing is shared between firms. */
export interface GraphContext {
  readonly ctx: Context;
  readonly actor: Actor;
  readonly requestId: string;
  readonly reads: Reads;
}
