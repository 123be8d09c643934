import { pageOf } from '../model/read-statements.ts';
import { placeKey } from '../model/tables.ts';
import { type Bug, inStatements } from './bug.ts';

type Row = Readonly<Record<string, unknown>>;

function isPage(name: string): boolean {
  return name === 'feed-rows' || name === 'feed-live-rows';
}

/** Remembers the first answer to a question for good. */
function remembering(keyOf: (name: string, values: readonly unknown[]) => string | null) {
  return () => {
    const known = new Map<string, readonly object[]>();
    return (name: string, _tables: unknown, values: readonly unknown[], run: () => readonly object[]) => {
      const key = keyOf(name, values);
      if (key === null) return run();
      const rows = known.get(key) ?? run();
      known.set(key, rows);
      return rows;
    };
  };
}

const cursorBugs: readonly Bug[] = [
  inStatements(
    'a cursor by time',
    ['rows had to be mended', 'rows are missing'],
    { processes: 3, skewedServers: true },
    () => (name, tables, values, run) => {
      const [, feed, after, limit] = values;
      const from = tables.ledger.get(placeKey(String(feed), Number(after)))?.receivedAt;
      if (name !== 'feed-rows' || from === undefined) return run();
      const timeOf = (seq: number) => tables.ledger.get(placeKey(String(feed), seq))?.receivedAt ?? '';
      return pageOf(tables, String(feed), ({ seq }) => timeOf(seq) > from, Number(limit));
    },
  ),
  inStatements(
    'the row after the cursor is left out',
    ['rows had to be mended', 'rows are missing'],
    {},
    () =>
      (name, tables, [, feed, after, limit], run) => {
        if (name !== 'feed-rows') return run();
        return pageOf(tables, String(feed), ({ seq }) => seq > Number(after) + 1, Number(limit));
      },
  ),
  inStatements(
    'a short page has the cursor of the tail',
    ['rows had to be mended', 'rows are missing'],
    { bootstraps: true },
    () =>
      (name, tables, [, feed, , limit], run) => {
        if (name !== 'feed-live-rows') return run();
        const tail = tables.tails.get(String(feed));
        const [page] = pageOf(tables, String(feed), ({ gone }) => !gone, 6);
        return tail ? [{ ...page, count: Number(limit), last: tail.seq, history: tail.historyHash }] : run();
      },
  ),
  inStatements(
    'what moved out is not told',
    ['rows had to be mended', 'replica differs'],
    { rehomes: true, steps: 50 },
    () => (name, tables, values, run) => {
      if (name !== 'feed-rows') return run();
      const [, feed, after, limit] = values;
      return pageOf(tables, String(feed), ({ seq, gone }) => !gone && seq > Number(after), Number(limit));
    },
  ),
  inStatements(
    'pages are remembered for good',
    ['rows had to be mended', 'rows are missing'],
    {},
    remembering((name, values) => (isPage(name) ? [name, ...values].join() : null)),
  ),
  inStatements(
    'pages are remembered without their feed',
    ['row answered otherwise'],
    { bootstraps: true },
    remembering((name, [, , after]) => (name === 'feed-live-rows' ? String(after) : null)),
  ),
  inStatements('the list of feeds lags one commit behind', ['rows are missing', 'replica differs'], {}, () => {
    const before = new Map<string, Row>();
    const now = new Map<string, Row>();
    return (name, _tables, _values, run) => {
      const rows = run();
      if (name !== 'crew-feeds' && name !== 'all-feeds') return rows;
      return (rows as Row[]).map((row) => {
        const feed = String(row.feed);
        const last = now.get(feed);
        if (last?.tail !== row.tail) {
          before.set(feed, last ?? row);
          now.set(feed, row);
        }
        return before.get(feed) ?? row;
      });
    };
  }),
];

const COMPACTS = { compacts: true, rehomes: true, deaths: true, steps: 50 } as const;

const retentionBugs: readonly Bug[] = [
  inStatements(
    'what is gone is dropped below no floor',
    ['rows had to be mended', 'head differs'],
    COMPACTS,
    () => (name, _tables, _values, run) => {
      return name === 'raise-floor' ? [] : run();
    },
  ),
  inStatements(
    'the floor is not looked at',
    ['rows had to be mended', 'replica differs'],
    COMPACTS,
    () => (name, _tables, _values, run) => {
      const rows = run() as Row[];
      return name === 'feed-tail' ? rows.map((row) => ({ ...row, floor: 0 })) : rows;
    },
  ),
  inStatements(
    'the floor sinks',
    ['rows had to be mended', 'head differs'],
    COMPACTS,
    () => (name, tables, values, run) => {
      if (name !== 'raise-floor') return run();
      tables.put(tables.floors, String(values[1]), 1);
      return [];
    },
  ),
  inStatements(
    'what lives is dropped with what is gone',
    ['rows are missing', 'head differs'],
    COMPACTS,
    () => (name, tables, values, run) => {
      const rows = run();
      if (name !== 'drop-gone') return rows;
      const live = [...tables.live.values()].find(({ feed, kind }) => feed === values[1] && kind === 'reading');
      if (live) {
        tables.remove(tables.heads, placeKey(live.feed, live.id));
        tables.remove(tables.live, live.id);
      }
      return rows;
    },
  ),
  inStatements(
    'the revisions of what is gone are forgotten',
    ['revision given twice'],
    { ...COMPACTS, voids: true, claims: true },
    () => (name, tables, _values, run) => {
      const rows = run() as { id: string; rev: number }[];
      if (name !== 'last-revisions') return rows;
      const known = new Set([...tables.heads.values()].map(({ id }) => id));
      return rows.filter(({ id }) => known.has(id));
    },
  ),
  inStatements(
    'a beginning that takes several pages misses what goes meanwhile',
    ['rows had to be mended', 'replica differs'],
    { ...COMPACTS, bootstraps: true, network: 0.5 },
    () => (name, tables, values, run) => {
      if (name !== 'feed-live-rows') return run();
      const [, feed, after, limit] = values;
      return pageOf(tables, String(feed), ({ seq, gone }) => !gone && seq > Number(after), Number(limit));
    },
  ),
];

const rightBugs: readonly Bug[] = [
  inStatements(
    'feeds are filtered by another reader',
    ['feed answered that is not followed'],
    {},
    remembering((name) => (name === 'crew-feeds' ? name : null)),
  ),
  inStatements('a right is never withdrawn', ['feed answered that is not followed'], { moves: true, steps: 30 }, () => {
    const ever = new Map<string, Map<string, Row>>();
    return (name, _tables, [, devices], run) => {
      const rows = run() as Row[];
      if (name !== 'crew-feeds') return rows;
      const known = ever.get(String(devices)) ?? new Map<string, Row>();
      ever.set(String(devices), known);
      for (const row of rows) known.set(String(row.feed), row);
      return [...known.values()].sort((a, b) => (String(a.feed) < String(b.feed) ? -1 : 1));
    };
  }),
];

const SET_BACK = { setBack: 'silent', backups: true, steps: 32 } as const;

const receiptBugs: readonly Bug[] = [
  inStatements(
    'receipts have no hash',
    ['acknowledged and gone', 'value lost', 'one revision twice'],
    { restoredPhone: true, steps: 50, phones: 3 },
    () => (name, _tables, _values, run) => {
      const rows = run() as Row[];
      if (name !== 'receipts') return rows;
      return rows.map((row) => ({ ...row, hash: Object.assign(Buffer.alloc(32), { equals: () => true }) }));
    },
  ),
  inStatements(
    'everything is called durable at once',
    ['acknowledged and gone', 'value lost'],
    SET_BACK,
    () => (name, _tables, _values, run) => {
      const rows = run() as Row[];
      if (name !== 'clients' && name !== 'client-standing') return rows;
      return rows.map((row) => ({ ...row, durable: row.lastMutation }));
    },
  ),
  inStatements(
    'the last mutation is remembered outside the database',
    ['acknowledged and gone', 'value lost'],
    SET_BACK,
    () => {
      const highest = new Map<string, number>();
      return (name, tables, [, client], run) => {
        const rows = run() as Row[];
        if (name === 'clients') {
          return rows.map((row) => ({ ...row, lastMutation: highest.get(String(row.id)) ?? row.lastMutation }));
        }
        for (const { id, lastMutation } of tables.clients.values()) {
          highest.set(id, Math.max(lastMutation, highest.get(id) ?? 0));
        }
        if (name !== 'client-standing') return rows;
        return rows.map((row) => ({ ...row, lastMutation: highest.get(String(client)) ?? row.lastMutation }));
      };
    },
  ),
  inStatements(
    'what waits is never tried again',
    ['waits in vain'],
    { waits: true },
    () => (name, _tables, _values, run) => {
      return name === 'waiting-for' ? [] : run();
    },
  ),
];

const recordBugs: readonly Bug[] = [
  inStatements('assessed without the readings', ['derived otherwise'], {}, () => (name, _tables, _values, run) => {
    const rows = run() as { state: { kind: string } }[];
    return name === 'held-of-visits' ? rows.filter(({ state }) => state.kind !== 'reading') : rows;
  }),
  inStatements(
    'derived records are not looked up again',
    ['counts of rows'],
    {},
    () => (name, _tables, _values, run) => {
      const rows = run() as { state: { kind: string } }[];
      return name === 'held-of-visits' ? rows.filter(({ state }) => state.kind !== 'flag') : rows;
    },
  ),
  inStatements(
    'what is remembered for merging is lost',
    ['merged otherwise', 'value lost'],
    { processes: 3 },
    () => (name, _tables, _values, run) => {
      const rows = run() as Row[];
      return name.startsWith('held-') ? rows.map((row) => ({ ...row, merge: null })) : rows;
    },
  ),
  inStatements(
    'the history hash leaves out the row before',
    ['hashes of rows'],
    {},
    () => (name, _tables, _values, run) => {
      const rows = run() as Row[];
      return name === 'tails' ? rows.map((row) => ({ ...row, historyHash: Buffer.alloc(32) })) : rows;
    },
  ),
  inStatements('numbers are given with gaps', ['numbers of rows'], {}, () => (name, _tables, _values, run) => {
    const rows = run() as { seq: number }[];
    return name === 'tails' ? rows.map((row) => ({ ...row, seq: row.seq + (row.seq % 5 === 4 ? 1 : 0) })) : rows;
  }),
  // the key of the ledger keeps a number from being given twice: nothing else of it can show
  inStatements('the tail is taken from memory', ['refused by a key'], { processes: 2 }, () => {
    let asked = 0;
    const known = new Map<string, readonly object[]>();
    return (name, _tables, values, run) => {
      if (name !== 'tails') return run();
      asked += 1;
      const key = String(values[1]);
      const rows = asked % 7 === 0 ? (known.get(key) ?? run()) : run();
      known.set(key, rows);
      return rows;
    };
  }),
];

/** Later than any list that a phone may know. */
const LATER = '2999-01-01T00:00:00.000Z';

const deviceBugs: readonly Bug[] = [
  inStatements(
    'who is reassigned while offline has no right any more',
    ['set aside without cause'],
    { moves: true, steps: 40 },
    () => {
      return (name, _tables, _values, run) => (name === 'dated-states' ? [] : run());
    },
  ),
  inStatements(
    'what the server has answered, the phone has seen',
    ['set aside without cause'],
    { moves: true, network: 0.5, steps: 40 },
    () => {
      return (name, _tables, _values, run) => {
        if (name !== 'clients') return run();
        return run().map((row) => ({ ...row, seenAt: LATER }));
      };
    },
  ),
];

export const STATEMENT_BUGS: readonly Bug[] = [
  ...cursorBugs,
  ...retentionBugs,
  ...rightBugs,
  ...receiptBugs,
  ...recordBugs,
  ...deviceBugs,
];
