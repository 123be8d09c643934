import type { Mutation } from '../../../src/protocol/mutation.ts';
import type { RecordState } from '../../../src/protocol/record.ts';
import { readCursor, writeCursor } from '../../../src/reads/cursor.ts';
import { faultOf } from '../../../src/store/fault.ts';
import type { Answer, Batch, Line } from '../../../src/writes/batch.ts';
import { readLine } from '../../../src/writes/read-line.ts';
import { fixedId } from '../base-firm.ts';
import type { ModelServer } from '../model/server.ts';
import { placeKey } from '../model/tables.ts';
import { type Bug, inLane } from './bug.ts';

type Rewrite = (mutation: Mutation, current: RecordState | null, batch: Batch) => Mutation;

/** The record as it stands now. */
function current(server: ModelServer, id: string): RecordState | null {
  const head = server.tables.live.get(id);
  const state = head && server.tables.ledger.get(placeKey(head.feed, head.seq))?.state;
  return typeof state === 'string' ? (JSON.parse(state) as RecordState) : null;
}

function parsed(line: Line): Mutation | null {
  try {
    return JSON.parse(line.text ?? '') as Mutation;
  } catch {
    return null;
  }
}

/** Decides something else than what came; by its bytes it is known again all the same. */
function deciding(rewrite: Rewrite) {
  return () => (next: (batch: Batch) => Promise<Answer>, server: ModelServer) => (batch: Batch) => {
    const lines = batch.lines.map((line): Line => {
      const mutation = parsed(line);
      if (!mutation) return line;
      const text = JSON.stringify(rewrite(mutation, current(server, mutation.id), batch));
      return { bytes: line.bytes, text };
    });
    return next({ ...batch, lines });
  };
}

/** The same lines as if another client had them first. */
function asIfNew(batch: Batch, times: number): Batch {
  const client = fixedId(0x900_000 + times);
  const lines = batch.lines.map((line, index): Line => {
    const mutation = parsed(line);
    return mutation ? { bytes: line.bytes, text: JSON.stringify({ ...mutation, mutationId: index + 1 }) } : line;
  });
  return { ...batch, client, first: 1, lines };
}

function numberedAs(answer: Answer, batch: Batch): Answer {
  if (answer.status !== 'answered') return answer;
  const outcomes = answer.outcomes.map((text, index) =>
    JSON.stringify({ ...(JSON.parse(text) as object), mutationId: batch.first + index }),
  );
  return { ...answer, outcomes, lastMutation: batch.first + batch.lines.length - 1 };
}

/** Answers get lost while people go on. */
const UNHEARD = { unheard: 0.7, steps: 120 } as const;

const mergeBugs: readonly Bug[] = [
  inLane(
    'the last writer wins',
    ['value lost'],
    {},
    deciding((mutation, now) =>
      mutation.verb === 'amend' && now ? { ...mutation, base: { rev: now.rev } } : mutation,
    ),
  ),
  inLane(
    'what the writer had in view is ignored',
    ['seen and asked about'],
    {},
    deciding((mutation) => (mutation.verb === 'amend' ? { ...mutation, base: undefined } : mutation)),
  ),
  inLane(
    'the later device clock wins',
    ['value lost'],
    { lyingClocks: true },
    deciding((mutation, now) => {
      const later = Date.parse(now?.clock?.wall ?? '') > Date.parse(mutation.clock?.wall ?? '');
      if (mutation.verb !== 'amend' || !later) return mutation;
      const set = Object.fromEntries(
        Object.keys(mutation.set ?? {}).map((field) => [field, now?.fields[field] ?? null]),
      );
      return { ...mutation, set };
    }),
  ),
  inLane(
    'a change of an older revision is passed over',
    ['value lost'],
    {},
    deciding((mutation, now) => {
      const { base, verb } = mutation;
      if (verb !== 'amend' || !now || base === undefined || !('rev' in base) || base.rev >= now.rev) return mutation;
      const set = Object.fromEntries(
        Object.keys(mutation.set ?? {}).map((field) => [field, now.fields[field] ?? null]),
      );
      return { ...mutation, set };
    }),
  ),
  inLane(
    'a base over own work: its revision is ignored',
    ['seen and asked about'],
    UNHEARD,
    deciding((mutation) => {
      const { base } = mutation;
      if (base === undefined || !('rev' in base) || base.under === undefined) return mutation;
      return { ...mutation, base: { rev: Math.max(1, Math.min(base.rev, ...Object.values(base.under))) } };
    }),
  ),
  inLane(
    'a base over own work: what lay over it is ignored',
    ['value lost'],
    UNHEARD,
    deciding((mutation) => {
      const { base } = mutation;
      return base !== undefined && 'rev' in base ? { ...mutation, base: { rev: base.rev } } : mutation;
    }),
  ),
  inLane(
    'a void is forgotten',
    ['void lost'],
    { voids: true },
    deciding((mutation, now) => {
      if (mutation.verb !== 'void' || !now) return mutation;
      const field = mutation.kind === 'visit' ? 'outcomeReason' : 'remark';
      return { ...mutation, verb: 'amend', set: { [field]: now.fields[field] ?? null } };
    }),
  ),
  inLane(
    'a clock that is ahead is refused',
    ['set aside without cause'],
    { lyingClocks: true },
    deciding((mutation) => {
      return Date.parse(mutation.clock?.wall ?? '') > Date.parse('2027-01-01') ? { ...mutation, kind: '' } : mutation;
    }),
  ),
  inLane(
    'one bad line sinks its push',
    ['set aside without cause'],
    { poison: true, steps: 30 },
    () => (next) => (batch) => {
      const bad = batch.lines.some((line) => 'code' in readLine(line.text ?? ''));
      return next(bad ? { ...batch, lines: batch.lines.map(({ bytes }) => ({ bytes, text: null })) } : batch);
    },
  ),
  inLane(
    'one bad line blocks its phone',
    ['never answered'],
    { poison: true, steps: 30 },
    () => (next) => async (batch) => {
      if (!batch.lines.some((line) => 'code' in readLine(line.text ?? ''))) return next(batch);
      throw Object.assign(new Error('the service is not available'), { code: 'ECONNRESET' });
    },
  ),
];

/** What a database fault leaves behind in a server that takes it for an answer. */
function storeRefusal(server: ModelServer, batch: Batch): Answer {
  const { tables } = server;
  const outcomes = batch.lines.map((line, index) => {
    const mutation = batch.first + index;
    const outcome = JSON.stringify({ mutationId: mutation, outcome: 'refused', code: 'busy', detail: 'deadlock' });
    const key = `${batch.client}:${mutation}`;
    const entry = { client: batch.client, mutation, hash: Buffer.alloc(32), outcome, baseRev: null, receivedAt: '' };
    if (!tables.receipts.has(key)) tables.receipts.set(key, entry);
    return line ? outcome : '';
  });
  const lastMutation = batch.first + batch.lines.length - 1;
  tables.clients.set(batch.client, {
    id: batch.client,
    token: batch.actor.token,
    lastMutation,
    durable: 0,
    seenAt: null,
  });
  return { status: 'answered', lastMutation, durable: 0, outcomes, repeated: 0 };
}

const receiptBugs: readonly Bug[] = [
  inLane(
    'a deadlock is stored as a refusal',
    ['refused without cause'],
    { commits: 0.9 },
    () => (next, server) => async (batch) => {
      try {
        return await next(batch);
      } catch (error) {
        if (faultOf(error) !== 'transient') throw error;
        return storeRefusal(server, batch);
      }
    },
  ),
  inLane('a repeated push is applied again', ['revision after changes'], { network: 0.5 }, () => {
    const seen = new Set<string>();
    let times = 0;
    return (next) => async (batch) => {
      const key = `${batch.client} ${batch.first}`;
      if (!seen.has(key)) {
        seen.add(key);
        return next(batch);
      }
      times += 1;
      return numberedAs(await next(asIfNew(batch, times)), batch);
    };
  }),
  inLane('a copy that is carried takes its client over', ['new client id'], { lent: true, steps: 40 }, () => {
    return (next, { tables }) =>
      async (batch) => {
        const answer = await next(batch);
        const client = batch.carried ? tables.clients.get(batch.client) : undefined;
        if (client) tables.clients.set(batch.client, { ...client, token: batch.actor.token });
        return answer;
      };
  }),
  inLane(
    'what is sent again is taken for a second phone',
    ['revision after changes'],
    { network: 0.4, cloned: true, steps: 40 },
    () => {
      return (next) => async (batch) => {
        const answer = await next(batch);
        const again = answer.status === 'answered' && answer.repeated > 0 && !batch.carried;
        return again ? { status: 'reused', mutation: batch.first } : answer;
      };
    },
  ),
  inLane("a partner's copy is applied once more", ['revision after changes'], { drowned: true, steps: 30 }, () => {
    let times = 0;
    return (next) => async (batch) => {
      times += 1;
      return batch.carried ? numberedAs(await next(asIfNew(batch, times)), batch) : next(batch);
    };
  }),
  inLane(
    'a gap in the numbers is passed over',
    ['acknowledged and gone', 'value lost'],
    { setBack: 'silent', network: 0.3, steps: 50 },
    () => {
      return (next, server) => (batch) => {
        const { clients } = server.tables;
        const lastMutation = batch.first - 1;
        if (lastMutation > (clients.get(batch.client)?.lastMutation ?? 0)) {
          clients.set(batch.client, {
            id: batch.client,
            token: batch.actor.token,
            lastMutation,
            durable: 0,
            seenAt: null,
          });
        }
        return next(batch);
      };
    },
  ),
  inLane('receipts are written after the answer', ['revision after changes'], { network: 0.4 }, () => {
    let pushes = 0;
    return (next, server) => async (batch) => {
      const before = server.tables.clients.get(batch.client);
      const answer = await next(batch);
      pushes += 1;
      if (pushes % 3 !== 0 || answer.status !== 'answered') return answer;
      for (const [index] of batch.lines.entries())
        server.tables.receipts.delete(`${batch.client}:${batch.first + index}`);
      if (before) server.tables.clients.set(batch.client, before);
      else server.tables.clients.delete(batch.client);
      throw Object.assign(new Error('the process ended'), { code: 'ECONNRESET' });
    };
  }),
];

/** A cursor with the history hash that its place has now. */
function believing(path: string, server: ModelServer): string {
  const [, text] = /cursor=([^&]+)/.exec(path) ?? [];
  const { cursorKey } = server.tables.installation;
  const cursor = text === undefined ? null : readCursor(cursorKey, decodeURIComponent(text));
  const row = cursor && server.tables.ledger.get(placeKey(cursor.feed, cursor.seq));
  if (!cursor || !row || text === undefined) return path;
  const history = row.historyHash.subarray(0, 8).toString('hex');
  return path.replace(text, encodeURIComponent(writeCursor(cursorKey, { ...cursor, history })));
}

const historyBug: Bug = {
  name: 'the history hash of a cursor is not checked',
  by: ['rows had to be mended', 'rows are missing'],
  where: { setBack: 'silent', backups: true, steps: 40 },
  plant: () => {
    let server: ModelServer | null = null;
    return {
      server: {
        lane: (next, of) => {
          server = of;
          return next;
        },
        door: (next) => (ctx, actor, asked) =>
          next(ctx, actor, server ? { ...asked, path: believing(asked.path, server) } : asked),
      },
    };
  },
};

export const LANE_BUGS: readonly Bug[] = [...mergeBugs, ...receiptBugs, historyBug];
