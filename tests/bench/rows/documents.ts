import { readEventLabels } from '../../../src/reads/custody/event-labels.ts';
import { readCustodyRecord } from '../../../src/reads/custody/read-custody-record.ts';
import { HttpConnection } from '../http-connection.ts';
import { type Measured, meterOf } from '../meter.ts';
import type { Round, Row } from '../row.ts';
import type { SampleGround } from '../samples/sample-ground.ts';
import { barePdf, pagesOf, textsIn } from '../sides/bare-pdf.ts';
import { median } from '../statistics.ts';

/** A document that can be asked for, and what it is drawn from. */
interface Asked {
  readonly path: string;
  facts(): Promise<unknown>;
}

interface Drawn {
  readonly pages: number;
  readonly readMs: number;
}

/** Documents of one sort, over HTTP and by the bare library. */
export interface DocumentSides {
  readonly samples: SampleGround;
  readonly asked: readonly Asked[];
  readonly found: Drawn[];
}

export function openCustodyRecords(samples: SampleGround, most: number): DocumentSides {
  const { database, office, coolers } = samples;
  const asked = coolers.slice(0, most).map((cooler) => ({
    path: `/v1/coolers/${cooler}/custody-record.pdf`,
    facts: () => readCustodyRecord(database, office.reader, cooler, new Date().toISOString()),
  }));
  return { samples, asked, found: [] };
}

/** The labels of an event are printed crew by crew: all of them are more than one document takes. */
export function openLabels(samples: SampleGround, most: number): DocumentSides {
  const { database, office, event, crews } = samples;
  const asked = crews.slice(0, most).map((crew) => ({
    path: `/v1/events/${event}/labels.pdf?crew=${crew}`,
    facts: () => readEventLabels(database, office.reader, event, { crew }),
  }));
  return { samples, asked, found: [] };
}

async function askAll({ samples }: DocumentSides, asked: readonly Asked[]): Promise<number[]> {
  const connection = await HttpConnection.open(samples.server.url);
  const headers = `authorization: ${samples.office.headers.authorization}\r\n`;
  const pages: number[] = [];
  try {
    for (const { path } of asked) {
      const { status, body } = await connection.ask('GET', path, headers);
      if (status !== 200) throw new Error(`${path} was answered ${status}: ${body.toString('utf8').slice(0, 500)}`);
      pages.push(pagesOf(body));
    }
  } finally {
    connection.close();
  }
  return pages;
}

/** One round: each document over HTTP; then as many pages of the same texts by the library alone. Ms a page. */
export async function documentRound(sides: DocumentSides): Promise<Round> {
  const { samples, asked, found } = sides;
  // the thread that draws ends when nobody needs it: that it starts is not what is measured
  await askAll(sides, asked.slice(0, 1));
  let pages: number[] = [];
  const ours = await samples.meter(async () => {
    pages = await askAll(sides, asked);
  });
  const begun = performance.now();
  const texts: string[][] = [];
  for (const one of asked) texts.push(textsIn(await one.facts()));
  const readMs = (performance.now() - begun) / asked.length;
  const theirs = await meterOf([process.pid])(async () => {
    for (const [at, its] of texts.entries()) {
      const bare = pagesOf(await barePdf(its, pages[at] ?? 0));
      if (bare !== pages[at]) throw new Error(`the bare document has ${bare} pages, ours ${pages[at]}`);
    }
  });
  const all = pages.reduce((sum, one) => sum + one, 0);
  found.push({ pages: all / asked.length, readMs });
  const us = ({ processorMs }: Measured) => (processorMs * 1_000) / all;
  return { own: ours.ms / all, other: theirs.ms / all, processorUs: { own: us(ours), other: us(theirs) } };
}

function documentRow(name: string, rounds: readonly Round[], found: readonly Drawn[]): Row {
  const pages = found.length === 0 ? 0 : median(found.map((one) => one.pages));
  const readMs = found.length === 0 ? 0 : median(found.map((one) => one.readMs));
  const note = `${pages.toFixed(1)} pages a document, what stands in it is read and put together in ${readMs.toFixed(0)} ms`;
  const against = 'the PDF library alone, as many pages, same texts and fonts';
  const first = 'ours goes first in every round, since the library draws as many pages as it had';
  const notes = found.length === 0 ? [] : [note, first];
  return { name, against, unit: 'ms/page', measure: 'time', target: null, rounds, notes };
}

export function custodyRecordRow(rounds: readonly Round[], found: readonly Drawn[]): Row {
  return documentRow('custody record of a cooler as PDF', rounds, found);
}

export function labelsRow(rounds: readonly Round[], found: readonly Drawn[]): Row {
  return documentRow('labels of a 200-well event as PDF, crew by crew', rounds, found);
}
