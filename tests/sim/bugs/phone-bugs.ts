import type { FetchLike, FetchRequest } from '../../../src/client/fetch-like.ts';
import type { Change } from '../../../src/client/store.ts';
import { fixedId } from '../base-firm.ts';
import type { Seams } from '../world.ts';
import { type Bug, inLine, inStore } from './bug.ts';

function isPut(change: Change, what: string): boolean {
  return 'put' in change && change.put === what;
}

const DEATHS = { deaths: true, network: 0.25, steps: 32 } as const;
const SET_BACK = { setBack: 'announced', backups: true, steps: 32 } as const;

const storeBugs: readonly Bug[] = [
  inStore('the cursor is saved before the rows', ['rows had to be mended', 'rows are missing'], DEATHS, (changes) => {
    const cursor = changes.filter((change) => isPut(change, 'feed'));
    return cursor.length === 0 ? [changes] : [cursor, changes.filter((change) => !cursor.includes(change))];
  }),
  // the server waits for the line that is missing, and the phone can only begin anew
  inStore('a number is used up before its line is saved', ['new client id'], DEATHS, (changes) => {
    const identity = changes.filter((change) => isPut(change, 'identity'));
    return [identity, changes.filter((change) => !identity.includes(change))];
  }),
  inStore(
    'the outbox is dropped at the acknowledgement',
    ['acknowledged and gone', 'value lost'],
    SET_BACK,
    (changes) => {
      const kept = changes.map((change): Change => {
        if (!('put' in change) || change.put !== 'entry' || change.entry.outcome === null) return change;
        return { drop: 'entry', client: change.entry.client, mutationId: change.entry.mutationId };
      });
      return [kept];
    },
  ),
  inStore('a reset drops the outbox', ['never answered'], { ...SET_BACK, moves: true }, (changes, contents) => {
    if (!changes.some((change) => 'drop' in change && change.drop === 'feed')) return [changes];
    const entries = [...contents.entries.values()].map(({ client, mutationId }): Change => {
      return { drop: 'entry', client, mutationId };
    });
    return [changes.filter((change) => !isPut(change, 'entry')), entries];
  }),
  inStore('rows of a page are written one by one', ['rows had to be mended', 'rows are missing'], DEATHS, (changes) => {
    const rest = changes.filter((change) => !isPut(change, 'record'));
    return [rest, ...changes.filter((change) => isPut(change, 'record')).map((change) => [change])];
  }),
  inStore(
    'a feed that is lost stays on the phone',
    ['feed held that is not followed'],
    { moves: true, steps: 32 },
    (changes) => {
      return [changes.filter((change) => !('drop' in change) || change.drop !== 'feed')];
    },
  ),
  inStore(
    'rows that are gone stay on the phone',
    ['rows had to be mended', 'replica differs'],
    { rehomes: true, steps: 50 },
    (changes) => {
      return [changes.filter((change) => !('drop' in change) || change.drop !== 'record')];
    },
  ),
];

function isPush(url: string): boolean {
  return url.includes('/push');
}

function changed(request: FetchRequest, body: string): FetchRequest {
  return { ...request, body };
}

/** An answer that says of every line that all is well. */
function inventedFor(body: string): string {
  const outcomes = body
    .split('\n')
    .slice(1, -1)
    .map((line) => {
      const { mutationId, kind, id } = JSON.parse(line) as { mutationId: number; kind: string; id: string };
      return { mutationId, outcome: 'applied', kind, id, rev: 1 };
    });
  const lastMutation = outcomes.at(-1)?.mutationId ?? 0;
  const serverTime = '2026-05-04T12:00:00Z';
  return JSON.stringify({ client: fixedId(0x900_000), lastMutation, durable: 0, serverTime, outcomes });
}

function answered(text: string) {
  return { status: 200, headers: { get: () => null }, text: async () => text };
}

function spacing(next: FetchLike): FetchLike {
  let tries = 0;
  return (url, request) => {
    tries += 1;
    const [header = '', ...lines] = (request.body ?? '').split('\n');
    const other = [header, ...lines.map((line) => (line === '' ? '' : line + ' '.repeat(tries % 5)))].join('\n');
    return next(url, isPush(url) ? changed(request, other) : request);
  };
}

const lineBugs: readonly Bug[] = [
  inLine('a retry is written anew', ['new client id'], { network: 0.5 }, () => (next) => spacing(next)),
  // a phone that finds that the server lacks what it was told takes it for set back
  inLine(
    'no answer counts as an answer',
    ['acknowledged and gone', 'one revision twice', 'reset without cause'],
    { network: 0.5 },
    () => (next) => async (url, request) => {
      try {
        return await next(url, request);
      } catch (error) {
        if (!isPush(url)) throw error;
        return answered(inventedFor(request.body ?? ''));
      }
    },
  ),
  inLine('the answer to somebody else is taken', ['acknowledged and gone', 'value lost', 'new client id'], {}, () => {
    let last: string | null = null;
    let pushes = 0;
    return (next) => async (url, request) => {
      if (!isPush(url)) return next(url, request);
      pushes += 1;
      if (last !== null && pushes % 4 === 0) return answered(last);
      const response = await next(url, request);
      const text = await response.text();
      if (response.status === 200) last = text;
      return { ...response, text: async () => text };
    };
  }),
  inLine(
    'an answer that was cut is mended and believed',
    ['rows had to be mended', 'rows are missing'],
    { network: 0.5 },
    () => (next) => async (url, request) => {
      const response = await next(url, request);
      const text = await response.text();
      const end = text.lastIndexOf('},{"seq"');
      const isCut = response.status === 200 && url.includes('/rows') && !text.endsWith(']}') && end > 0;
      return { ...response, text: async () => (isCut ? `${text.slice(0, end)}}]}` : text) };
    },
  ),
];

/** A copy as it was before it said in what history its lines saw what they cite. */
const withoutHistory: NonNullable<NonNullable<Seams['phone']>['line']> = (next) => (url, request) => {
  if (!url.endsWith('push?carried=true')) return next(url, request);
  const [header = '', ...lines] = (request.body ?? '').split('\n');
  const { seen: _, ...told } = JSON.parse(header) as Record<string, unknown>;
  return next(url, changed(request, [JSON.stringify(told), ...lines].join('\n')));
};

/** Crowded worlds in which the data is set back while a partner carries what a lost phone had seen. */
const LOST = { drowned: true, begun: true, network: 0.2, steps: 40, phones: 6 } as const;

const copyBugs: readonly Bug[] = [
  inLine(
    'a carried copy goes without its history',
    ['value lost'],
    { ...LOST, setBack: 'silent' },
    () => withoutHistory,
  ),
  {
    name: 'what a copy cites without a history is believed after a set-back',
    by: ['value lost'],
    where: { ...LOST, setBack: 'announced' },
    plant: () => ({
      phone: { line: withoutHistory },
      server: { around: (name, _tables, _values, run) => (name === 'epoch-began' ? [{ began: false }] : run()) },
    }),
  },
];

export const PHONE_BUGS: readonly Bug[] = [...storeBugs, ...lineBugs, ...copyBugs];
