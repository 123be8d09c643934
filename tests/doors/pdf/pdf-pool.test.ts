import { describe, expect, it } from 'vitest';
import type { PdfJob } from '../../../src/doors/pdf/pdf-job.ts';
import { openPdfPool, type PdfPoolOptions } from '../../../src/doors/pdf/pdf-pool.ts';
import { exampleRecord } from '../../documents/custody/custody-example.ts';
import { withPdf } from '../../documents/support/pdf-pages.ts';

const record: PdfJob = { kind: 'custody-record', record: exampleRecord, paper: 'letter' };

/** A thread with another program than the one that draws. */
function program(body: string): URL {
  const source = `import { parentPort, threadId } from 'node:worker_threads';\nparentPort.on('message', (job) => { ${body} });`;
  return new URL(`data:text/javascript,${encodeURIComponent(source)}`);
}

/** Answers with the number of its thread. */
const ECHO = program('parentPort.postMessage({ bytes: new Uint8Array([threadId]) });');
/** Ends, never answers, or echoes, as the paper says. */
const MOODY = program(
  `if (job.paper === 'a4') { if (job.record.madeAt === 'crash') process.exit(3); if (job.record.madeAt === 'throw') throw new Error('broke'); return; }
parentPort.postMessage({ bytes: new Uint8Array([threadId]) });`,
);

const moody = (madeAt: string): PdfJob => ({ ...record, paper: 'a4', record: { ...exampleRecord, madeAt } }) as PdfJob;

async function withPool<T>(
  options: PdfPoolOptions,
  use: (pool: ReturnType<typeof openPdfPool>) => Promise<T>,
): Promise<T> {
  const pool = openPdfPool(options);
  try {
    return await use(pool);
  } finally {
    await pool.close();
  }
}

const failure = (work: Promise<unknown>) =>
  work.then(
    () => null,
    (error: { code?: string; message: string }) => error,
  );

describe('the threads that draw documents', () => {
  it('draw the same bytes as this thread would, one document after the other', async () => {
    await withPool({}, async (pool) => {
      const [one, other] = await Promise.all([pool.draw(record), pool.draw(record)]);
      expect(Buffer.from(one).equals(Buffer.from(other))).toBe(true);
      const text = await withPdf(one, async (pages) => pages.map((page) => page.text).join(' '));
      expect(text.replace(/\s+/g, ' ')).toContain('Record R-2026-05-C2, cooler C2');
    });
  });

  it('say what cannot be laid out, and go on', async () => {
    await withPool({}, async (pool) => {
      const about = { firm: 'F', title: 'T', madeAt: '2026-05-04T12:00:00Z', timeZone: 'UTC' };
      const tiny: PdfJob = {
        kind: 'labels',
        labels: [{ labelId: 'A', sampleNumber: 'A', site: 'S', matrix: 'groundwater', analyses: [] }],
        media: { form: 'roll', labelWidthMm: 5, labelHeightMm: 5 },
        about,
      };
      const fault = await failure(pool.draw(tiny));
      expect(fault).toMatchObject({ code: 'bad_request' });
      expect(fault?.message).toContain('a label of 5 x 5 mm');
      const broken = await failure(pool.draw({ kind: 'labels' } as PdfJob));
      expect(broken?.message).toContain('could not be drawn');
      expect((await pool.draw(record)).length).toBeGreaterThan(1_000);
    });
  });

  it('are as many as allowed, each used again', async () => {
    await withPool({ program: ECHO, threads: 2 }, async (pool) => {
      const ids = await Promise.all(Array.from({ length: 8 }, () => pool.draw(record)));
      expect(new Set(ids.map(([id]) => id)).size).toBe(2);
    });
  });

  it('refuse what would wait behind too many', async () => {
    await withPool({ program: MOODY, mostWaiting: 2, timeoutMs: 60_000 }, async (pool) => {
      // one is at work, two wait
      const working = [moody('never'), moody('never'), moody('never')].map((job) => failure(pool.draw(job)));
      await new Promise((resolve) => setTimeout(resolve, 20));
      expect(await failure(pool.draw(record))).toMatchObject({
        code: 'busy',
        message: '2 documents wait to be drawn already',
      });
      await pool.close();
      expect((await Promise.all(working)).map((one) => one?.code)).toEqual(['busy', 'busy', 'busy']);
    });
  });

  it('end a document that takes too long, and draw the next in another thread', async () => {
    await withPool({ program: MOODY, timeoutMs: 150 }, async (pool) => {
      const [late, next] = await Promise.all([failure(pool.draw(moody('never'))), pool.draw(record)]);
      expect(late).toMatchObject({ code: 'busy' });
      expect(late?.message).toContain('longer than 150 ms');
      expect(next).toHaveLength(1);
    });
  });

  it.each(['crash', 'throw'])(
    'outlive a thread that breaks (%s): its document fails, the next is drawn',
    async (how) => {
      await withPool({ program: MOODY }, async (pool) => {
        const [broken, next] = await Promise.all([failure(pool.draw(moody(how))), pool.draw(record)]);
        expect(broken?.message).toContain('could not be drawn');
        expect(broken?.code).not.toBe('busy');
        expect(next).toHaveLength(1);
      });
    },
  );

  it('end when nobody needs them, and are there again when somebody does', async () => {
    await withPool({ program: ECHO, idleMs: 30 }, async (pool) => {
      const [before] = await pool.draw(record);
      await new Promise((resolve) => setTimeout(resolve, 200));
      const [after] = await pool.draw(record);
      expect(after).not.toBe(before);
    });
  });

  it('draw nothing once they are closed, and may be closed twice', async () => {
    const pool = openPdfPool({ program: ECHO });
    await pool.draw(record);
    await pool.close();
    await pool.close();
    expect(await failure(pool.draw(record))).toMatchObject({ code: 'busy' });
  });
});
