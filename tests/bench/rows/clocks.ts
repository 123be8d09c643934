import { deadlinesInput, readEventDeadlines } from '../../../src/reads/event-deadlines.ts';
import type { Ground } from '../ground.ts';
import { HttpConnection } from '../http-connection.ts';
import { alternating, type InTurn } from '../in-turn.ts';
import { repeated } from '../meter.ts';
import type { Round, Row } from '../row.ts';
import type { SampleGround } from '../samples/sample-ground.ts';
import { noting, replay, type Statement } from '../sides/captured-statements.ts';

/** The clocks of an event over HTTP, and the statements that the answer takes. */
export interface ClockSides {
  readonly samples: SampleGround;
  readonly statements: readonly Statement[];
  readonly containers: number;
  readonly inTurn: InTurn;
}

export async function openClocks(samples: SampleGround): Promise<ClockSides> {
  const statements: Statement[] = [];
  const given = { ...deadlinesInput.parse({}), now: new Date().toISOString() };
  const ctx = { pool: noting(samples.database.pool, statements) };
  const { containers } = await readEventDeadlines(ctx, samples.office.reader, samples.event, given);
  return { samples, statements, containers, inTurn: alternating() };
}

/** One round: the first page of the clocks over HTTP so many times, and its statements alone. */
export async function clockRound(ground: Ground, sides: ClockSides): Promise<Round> {
  const { samples, statements, containers, inTurn } = sides;
  const times = ground.size.lists;
  const connection = await HttpConnection.open(samples.server.url);
  const headers = `authorization: ${samples.office.headers.authorization}\r\n`;
  try {
    const ask = async () => {
      const { status, body } = await connection.ask('GET', `/v1/events/${samples.event}/deadlines`, headers);
      const text = body.toString('utf8');
      if (status === 200 && text.includes(`"containers":${containers}`)) return;
      throw new Error(`the clocks were answered ${status}: ${text.slice(0, 500)}`);
    };
    const { own: ours, other: theirs } = await inTurn(
      () => samples.meter(() => repeated(times, ask)),
      () => samples.meter(() => repeated(times, () => replay(samples.database.pool, statements))),
    );
    const us = (processorMs: number) => (processorMs * 1_000) / times;
    const processorUs = { own: us(ours.processorMs), other: us(theirs.processorMs) };
    return { own: ours.ms / times, other: theirs.ms / times, processorUs };
  } finally {
    connection.close();
  }
}

export function clocksRow(rounds: readonly Round[]): Row {
  const name = 'clocks of 5,000 containers, the tightest first';
  return { name, against: 'its own SQL alone', unit: 'ms', measure: 'time', target: null, rounds };
}
