import type { FetchLike } from '../../../src/client/fetch-like.ts';
import { takeNewIdentity } from '../../../src/client/new-identity.ts';
import type { Change } from '../../../src/client/store.ts';
import type { PhoneSeams, SimPhone } from '../../sim/sim-phone.ts';
import { LiveReader } from '../../support/live-reader.ts';
import type { StormPhone } from './storm-phone.ts';

type Line = NonNullable<PhoneSeams['line']>;

/** What a phone does wrongly where a push of its own was not answered. */
function whereCut(act: (phone: SimPhone, body: string) => Promise<string | null>): PhoneSeams {
  const line: Line = (next, phone): FetchLike => {
    return async (url, request) => {
      try {
        return await next(url, request);
      } catch (error) {
        const answer = url.includes('/push') ? await act(phone, request.body ?? '') : null;
        if (answer === null) throw error;
        return { status: 200, headers: { get: () => null }, text: async () => answer };
      }
    };
  };
  return { line };
}

/** Lets go of what it has sent, as if sending were arriving. */
export const forgetting = whereCut(async ({ contents, client, isOn }) => {
  const sent = [...contents.entries.values()].filter(({ outcome }) => outcome === null);
  const drops = sent.map((entry): Change => ({ drop: 'entry', client: entry.client, mutationId: entry.mutationId }));
  if (isOn) await client.context.store.commit(drops);
  return null;
});

/** Says everything again under a new client id, under which no receipt knows it. */
export const reissuing = whereCut(async ({ client, isOn }) => {
  if (isOn) await takeNewIdentity(client.context);
  return null;
});

/** Whoever stands between says that all is well: a proxy that is to be helpful, or a page of a network. */
export const inventing = whereCut(async (_, body) => {
  const lines = body.split('\n').slice(1, -1);
  const outcomes = lines.map((line) => {
    const { mutationId, kind, id } = JSON.parse(line) as { mutationId: number; kind: string; id: string };
    return { mutationId, outcome: 'applied', kind, id, rev: 1 };
  });
  const [header = '{}'] = body.split('\n');
  const { client } = JSON.parse(header) as { client: string };
  const lastMutation = outcomes.at(-1)?.mutationId ?? 0;
  return JSON.stringify({ client, lastMutation, durable: 0, serverTime: new Date().toISOString(), outcomes });
});

/** Writes the cursor first, and dies before it writes the rows. @returns how often it did */
export function cursorFirst(phone: () => SimPhone | undefined): { readonly seams: PhoneSeams; deaths(): number } {
  let deaths = 0;
  const parts: PhoneSeams['parts'] = (changes) => {
    const cursor = changes.filter((change) => 'put' in change && change.put === 'feed');
    const rows = changes.some((change) => 'put' in change && change.put === 'record');
    if (!rows || cursor.length === 0 || deaths === 2) return [changes];
    deaths += 1;
    phone()?.die();
    return [cursor];
  };
  return { seams: { parts }, deaths: () => deaths };
}

/** Asks where its feeds end, and listens a while later for what comes then: what came in between, it is never told. */
export class EarlyReader {
  readonly told = new Map<string, number>();
  #reader: LiveReader | null = null;

  async ask({ sim }: StormPhone): Promise<void> {
    const answer = await sim.client.context.transport.feeds(sim.contents.identity?.client ?? '');
    if (!answer.ok) throw new Error(answer.problem.detail);
    for (const { feed, tail } of answer.value.feeds) this.told.set(feed, tail);
  }

  async listen({ line, secret }: StormPhone): Promise<void> {
    const reader = await LiveReader.open(line.base, secret);
    this.#reader = reader;
    await reader.until('the first tails', () => reader.tails.size >= this.told.size);
    const first = new Map(reader.tails);
    void reader
      .until(
        'never',
        () => {
          for (const [feed, tail] of reader.tails) if (tail !== first.get(feed)) this.told.set(feed, tail);
          return reader.closed;
        },
        60_000,
      )
      .catch(() => undefined);
  }

  stop(): void {
    this.#reader?.cut();
  }
}
