import { listedRow } from '../../../src/documents/sample-list/sample-list-json.ts';
import { readLaboratoryList } from '../../../src/reads/laboratory/laboratory-list.ts';
import type { Ground } from '../ground.ts';
import { alternating, type InTurn } from '../in-turn.ts';
import { meterOf, repeated } from '../meter.ts';
import type { Round, Row } from '../row.ts';
import type { SampleGround } from '../samples/sample-ground.ts';
import { noting, replay, type Statement } from '../sides/captured-statements.ts';
import { memoryAbove } from '../sides/peak-memory.ts';
import { keptConnection, type Streamed, takeStreamed } from '../sides/streamed.ts';
import { median } from '../statistics.ts';

const CONTAINERS = 5_000;
const MB = 1e6;

/** The list over HTTP, and what the database and JSON alone make of the same rows. */
export interface SampleListSides {
  readonly samples: SampleGround;
  readonly statements: readonly Statement[];
  readonly rows: readonly Readonly<Record<string, string>>[];
  /** Memory that the first lists take of a server that was never asked before. */
  readonly above: number | null;
  readonly found: { readonly mbPerS: number; readonly firstMs: number; readonly sqlMs: number }[];
  readonly inTurn: InTurn;
}

export async function openSampleList(samples: SampleGround, times: number): Promise<SampleListSides> {
  const statements: Statement[] = [];
  const { database, laboratory, event } = samples;
  const told = await readLaboratoryList({ pool: noting(database.pool, statements) }, laboratory.reader, event);
  const rows = [...told.rows].map(listedRow);
  if (rows.length !== CONTAINERS) throw new Error(`the list has ${rows.length} rows, it should have ${CONTAINERS}`);
  const above = await memoryAbove(samples.server.pid, () => askList({ samples, rows }, times));
  return { samples, statements, rows, above, found: [], inTurn: alternating() };
}

async function askList(
  { samples, rows }: Pick<SampleListSides, 'samples' | 'rows'>,
  times: number,
): Promise<Streamed[]> {
  const agent = keptConnection();
  const url = `${samples.server.url}/v1/laboratory/events/${samples.event}/list.json`;
  const took: Streamed[] = [];
  try {
    for (let time = 0; time < times; time++) took.push(await takeStreamed(agent, url, samples.laboratory.headers));
  } finally {
    agent.destroy();
  }
  const cut = took.find(({ end }) => !end.includes(`"count":${rows.length}`));
  if (cut) throw new Error(`the list was not whole, it ended with ${cut.end}`);
  return took;
}

/** One round: the list over HTTP so many times, and its statements and the JSON of its rows. */
export async function sampleListRound(ground: Ground, sides: SampleListSides): Promise<Round> {
  const times = ground.size.lists;
  const { samples, statements, rows, found, inTurn } = sides;
  const listed: Streamed[] = [];
  const sqlMs: number[] = [];
  const bare = async () => {
    const begun = performance.now();
    await replay(samples.database.pool, statements);
    sqlMs.push(performance.now() - begun);
    Buffer.from(JSON.stringify(rows));
  };
  const { own: ours, other: theirs } = await inTurn(
    () => samples.meter(async () => listed.push(...(await askList(sides, times)))),
    () => meterOf([process.pid, ground.postgres.pid])(() => repeated(times, bare)),
  );
  found.push({
    mbPerS: median(listed.map(({ bytes, ms }) => bytes / MB / (ms / 1_000))),
    firstMs: median(listed.map(({ firstMs }) => firstMs)),
    sqlMs: median(sqlMs),
  });
  const processorUs = { own: (ours.processorMs * 1_000) / times, other: (theirs.processorMs * 1_000) / times };
  return { own: ours.ms / times, other: theirs.ms / times, processorUs };
}

function notesOf({ found, above }: SampleListSides): string[] {
  if (found.length === 0) return [];
  const mbPerS = median(found.map((one) => one.mbPerS)).toFixed(1);
  const firstMs = median(found.map((one) => one.firstMs)).toFixed(0);
  const sqlMs = median(found.map((one) => one.sqlMs)).toFixed(0);
  const memory = above === null ? 'is not told by this system' : `was ${(above / MB).toFixed(0)} MB at its highest`;
  return [
    `${mbPerS} MB/s, ${firstMs} ms to the first byte; its SQL alone takes ${sqlMs} ms`,
    `memory above that of a server that was asked nothing ${memory}`,
  ];
}

export function sampleListRow(rounds: readonly Round[], sides: SampleListSides | null): Row {
  const name = `sample list of a laboratory, ${CONTAINERS.toLocaleString('en')} containers, streamed`;
  const against = 'its own SQL alone and JSON of the same rows';
  return { name, against, unit: 'ms', measure: 'time', target: null, rounds, notes: sides ? notesOf(sides) : [] };
}
