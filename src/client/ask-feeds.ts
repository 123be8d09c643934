import { type ClientContext, identityOf } from './context.ts';
import type { Answer, FeedList } from './transport.ts';

/**
 * Asks for the list of feeds, and says which list this phone knew when it captured what it has not sent: by that the
 * server judges whether a crew could know that its assignment had ended. It is not enough that the server has answered,
 * since the answer may have been lost.
 */
export async function askFeeds({ store, transport, line }: ClientContext): Promise<Answer<FeedList>> {
  const { client, formerly = null, seen = null } = await identityOf(store);
  const answer = await transport.feeds(client, { seen, formerly });
  if (answer.ok) {
    line.serverVersion = answer.value.schemaVersion;
    line.told = client;
  }
  return answer;
}
