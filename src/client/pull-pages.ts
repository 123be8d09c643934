import { applyPage } from './apply-page.ts';
import { type ClientContext, identityOf } from './context.ts';
import { narrowPages, widenPages } from './line.ts';
import type { FeedState } from './store.ts';
import { type FeedPage, NO_ANSWER, type Problem } from './transport.ts';

/** The state at the tail, and the page that reached it. */
export interface Reached {
  readonly state: FeedState;
  readonly page: FeedPage;
}

export interface Pages {
  /** Null when a problem came before the tail. */
  readonly reached: Reached | null;
  readonly rows: number;
  readonly problem: Problem | null;
}

const STANDSTILL: Problem = {
  status: 200,
  code: 'feed_stands_still',
  detail: 'the server promises more rows of a feed but gives none; asked again at the next sync',
  retryAfterMs: null,
  expected: null,
  mutation: null,
  reason: null,
  lastMutation: null,
};

/** From where the feed was left, page after page to its tail. Each page is kept, so a cut bootstrap goes on later. */
export async function pullPages(context: ClientContext, feed: string, from: FeedState | null): Promise<Pages> {
  const { transport, store, line } = context;
  const { client } = await identityOf(store);
  let state = from;
  let rows = 0;
  for (;;) {
    const answer = await transport.page({ feed, cursor: state?.cursor ?? null, limit: line.pageRows, client });
    if (!answer.ok) {
      if (answer.problem.code === NO_ANSWER) narrowPages(line);
      return { reached: null, rows, problem: answer.problem };
    }
    const page = answer.value;
    if (page.more && page.cursor === state?.cursor) return { reached: null, rows, problem: STANDSTILL };
    state = await applyPage(context, page, state);
    rows += page.rows.length;
    widenPages(line);
    if (!page.more) return { reached: { state, page }, rows, problem: null };
  }
}
