import { v7 } from 'uuid';
import { eventStatus } from '../../../src/reads/event-status.ts';
import { issueToken } from '../../../src/writes/set-up-firm.ts';
import type { Draft } from '../../support/test-firm.ts';
import { localTime, type OpenPurge, pushAll } from '../bench-firm.ts';
import type { Ground } from '../ground.ts';
import { HttpConnection } from '../http-connection.ts';
import { alternating, type InTurn } from '../in-turn.ts';
import { repeated } from '../meter.ts';
import { READING_INTERVAL_MS, valuesAt } from '../readings.ts';
import type { Round, Row } from '../row.ts';
import { noting, replay, type Statement } from '../sides/captured-statements.ts';

const READINGS = 5;

/** An event of 200 wells in the middle of its work, who asks, and the statements that the answer takes. */
export interface EventStatusSides {
  readonly address: string;
  readonly headers: string;
  readonly statements: readonly Statement[];
  readonly inTurn: InTurn;
}

/** Every well is planned, three of four are visited, and half of those are sampled. */
function eventDrafts(ground: Ground, event: string): Draft[] {
  const { ids } = ground.firm.firm;
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const dates = { starts: localTime(Date.now()).slice(0, 10), ends: localTime(Date.now()).slice(0, 10) };
  const set = { site: ids.site, name: 'Round of 200 wells', standing: 'open', plan, ...dates };
  const assignments = ground.firm.wells.map((well, index): Draft => {
    return { kind: 'assignment', set: { event, crew: index % 2 ? ids.north : ids.south, well, suites: ['metals'] } };
  });
  return [{ kind: 'event', id: event, set }, ...assignments];
}

function readingDrafts(ground: Ground, open: readonly OpenPurge[]): Draft[] {
  return open.flatMap(({ purge, meter, begunMs }) =>
    Array.from({ length: READINGS }, (_, place): Draft => {
      const observed = ground.firm.firm.observed(localTime(begunMs + place * READING_INTERVAL_MS));
      return { kind: 'reading', set: { purge, meter, ...valuesAt(place), observed } };
    }),
  );
}

function sampleDrafts(open: readonly OpenPurge[]): Draft[] {
  return open.map(({ visit, begunMs }, index): Draft => {
    const collected = localTime(begunMs + 10 * READING_INTERVAL_MS);
    return { kind: 'sample', set: { visit, number: `B-${index + 1}`, suites: ['metals'], collected } };
  });
}

export async function openEventStatus(ground: Ground): Promise<EventStatusSides> {
  const { firm } = ground;
  const event = v7();
  firm.firm.nowMs = Date.now();
  await pushAll(firm.admin, eventDrafts(ground, event));
  const open = await firm.openPurges(Math.floor((firm.wells.length * 3) / 4), event);
  await pushAll(firm.admin, readingDrafts(ground, open));
  await pushAll(firm.admin, sampleDrafts(open.filter((_, index) => index % 2 === 0)));
  const { secret, id } = await issueToken(
    ground.database.pool,
    firm.firm.id,
    { label: 'Wall', role: 'dashboard' },
    new Date(),
  );
  const statements: Statement[] = [];
  const reader = { firm: firm.firm.id, token: id, role: 'dashboard', device: null } as const;
  await eventStatus(noting(ground.database.pool, statements), reader, event);
  const asked = { address: `/v1/events/${event}/status`, headers: `authorization: Bearer ${secret}\r\n` };
  return { ...asked, statements, inTurn: alternating() };
}

/** One round: the answer over HTTP so many times, and its statements alone. */
export async function eventStatusRound(ground: Ground, sides: EventStatusSides): Promise<Round> {
  const times = ground.size.statuses;
  const connection = await HttpConnection.open(ground.server.url);
  try {
    const ask = async () => {
      const { status, body } = await connection.ask('GET', sides.address, sides.headers);
      if (status !== 200) throw new Error(`the status was answered ${status}: ${body.toString('utf8').slice(0, 500)}`);
    };
    const { own: ours, other: theirs } = await sides.inTurn(
      () => ground.meter(() => repeated(times, ask)),
      () => ground.meter(() => repeated(times, () => replay(ground.database.pool, sides.statements))),
    );
    const us = (processorMs: number) => (processorMs * 1_000) / times;
    const processorUs = { own: us(ours.processorMs), other: us(theirs.processorMs) };
    return { own: ours.ms / times, other: theirs.ms / times, processorUs };
  } finally {
    connection.close();
  }
}

export function eventStatusRow(rounds: readonly Round[]): Row {
  const against = 'its own SQL alone';
  return { name: 'event status of a 200-well event', against, unit: 'ms', measure: 'time', target: 3, rounds };
}
