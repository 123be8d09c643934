import { type CoolerFacts, coolerFacts } from './cooler-facts.ts';
import type { CustodyWorld } from './custody-records.ts';
import type { Beside } from './custody-rule.ts';
import type { CustodyVectorGiven, VectorBottle, VectorTime } from './custody-vector.ts';

type Fields = Readonly<Record<string, unknown>>;

const NOBODY = { rev: 1, voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
const PERSON = 'person';

function record(kind: string, id: string, fields: Fields) {
  return { ...NOBODY, kind, id, fields };
}

/** "+1 09:00" as an instant on 5 May 2026. */
export function vectorTime(time: VectorTime): string {
  const [, days = '0', clock = ''] = /^(?:\+(\d) )?(\d\d:\d\d)$/.exec(time) ?? [];
  if (clock === '') throw new Error(`"${time}" is no time of a vector: give one such as 10:05 or "+1 09:00"`);
  return `2026-05-0${4 + Number(days)}T${clock}:00-05:00`;
}

function observedAt(time: VectorTime) {
  const at = vectorTime(time);
  return { at, entered: at, captured: 'at-the-well', readBy: PERSON, writtenBy: PERSON };
}

function bottleRecords(label: string, bottle: VectorBottle) {
  const { group = 'volatiles', blank, collected = '10:00', laboratory, more = {}, fill = {} } = bottle;
  const holder = blank === undefined ? { sample: `sample of ${label}` } : { blank: `blank of ${label}` };
  const standing = collected === null ? 'expected' : 'filled';
  const fields = { event: 'event', group, type: 'bottle', volumeMl: '250', label, cooler: 'cooler', standing };
  const container = record('container', `bottle ${label}`, { ...fields, ...holder, ...more });
  const time = collected === null ? null : vectorTime(collected);
  const of = { number: label, suites: ['suite'], ...(laboratory ? { laboratory } : {}) };
  const taken = { ...of, collected: time ?? vectorTime('10:00') };
  return {
    containers: [container],
    samples: blank === undefined ? [record('sample', holder.sample ?? '', { visit: 'visit', ...taken })] : [],
    blanks: blank === undefined ? [] : [record('blank', holder.blank ?? '', { event: 'event', type: blank, ...taken })],
    fills:
      time === null ? [] : [record('fill', `fill ${label}`, { container: container.id, collected: time, ...fill })],
  };
}

function sealRecord(cooler: string, [number, applied, broken]: NonNullable<CustodyVectorGiven['seals']>[number]) {
  return record('seal', `seal ${number} of ${cooler}`, {
    cooler,
    number,
    applied: vectorTime(applied),
    observed: observedAt(applied),
    ...(broken === undefined ? {} : { broken: vectorTime(broken) }),
  });
}

function otherRecords({ others = [] }: CustodyVectorGiven) {
  const named = others.map((one, index) => ({ ...one, id: `other cooler ${index}` }));
  return {
    coolers: named.map(({ id, number, packed }) =>
      record('cooler', id, { event: 'event', number, ...(packed ? { packed: vectorTime(packed) } : {}) }),
    ),
    seals: named.flatMap(({ id, seals = [] }) => seals.map((one) => sealRecord(id, one))),
    receipts: named.flatMap(({ id, received }) =>
      received ? [record('sample-receipt', `receipt of ${id}`, { cooler: id, received: vectorTime(received) })] : [],
    ),
  };
}

function custodyRecords({ seals = [], hands = [], checks = [], receipt }: CustodyVectorGiven) {
  const { received = '+1 09:00', ...more } = receipt ?? {};
  return {
    seals: seals.map((one) => sealRecord('cooler', one)),
    handOvers: hands.map(([side, at, name, fields = {}], index) =>
      record('hand-over', `hand ${index}`, {
        cooler: 'cooler',
        side: side === 'out' ? 'relinquished' : 'received',
        at: vectorTime(at),
        observed: observedAt(at),
        name,
        organization: 'Example Field Services',
        ...fields,
      }),
    ),
    coolerChecks: checks.map(([at, fields = {}], index) =>
      record('cooler-check', `check ${index}`, { cooler: 'cooler', observed: observedAt(at), ...fields }),
    ),
    receipts: receipt
      ? [
          record('sample-receipt', 'receipt', {
            event: 'event',
            cooler: 'cooler',
            received: vectorTime(received),
            observed: observedAt(received),
            ...more,
          }),
        ]
      : [],
  };
}

/** The facts of a vector, made as those of stored records are. */
export function vectorFacts(given: CustodyVectorGiven): CoolerFacts {
  const bottles = Object.entries(given.bottles ?? {}).map(([label, bottle]) => bottleRecords(label, bottle));
  const others = (given.elsewhere ?? []).map((label) => bottleRecords(label, { more: { cooler: 'other cooler' } }));
  const all = [...bottles, ...others];
  const { packed, ...more } = given.cooler ?? {};
  const times = typeof packed === 'string' ? { packed: vectorTime(packed) } : {};
  const cooler = record('cooler', 'cooler', { event: 'event', number: 'C-1', ...more, ...times });
  const [its, beside] = [custodyRecords(given), otherRecords(given)];
  const world = {
    event: record('event', 'event', { plan: { sampling: given.plan ?? null } }),
    site: record('site', 'site', { name: 'Example site', timeZone: 'America/Chicago' }),
    samples: all.flatMap((one) => one.samples),
    blanks: all.flatMap((one) => one.blanks),
    plannedSamples: [],
    containers: all.flatMap((one) => one.containers),
    fills: all.flatMap((one) => one.fills),
    ...its,
    coolers: [cooler, ...beside.coolers],
    seals: [...its.seals, ...beside.seals],
    receipts: [...its.receipts, ...beside.receipts],
    suites: Object.entries(given.suites ?? {}).map(([name, groups]) => record('analyte-suite', name, { name, groups })),
    laboratories: [
      record('laboratory', 'lab-a', { name: 'Laboratory A' }),
      record('laboratory', 'lab-b', { name: 'Laboratory B' }),
    ],
  };
  // the shapes are those of the kinds; ids are words, so that a vector can be read
  return coolerFacts(cooler as never, world as unknown as CustodyWorld);
}

export function vectorBeside({ former = [], contents = [], twice = [], now }: CustodyVectorGiven): Beside {
  const nobody = {
    uncertaintyMs: 0,
    client: null,
    mutation: null,
    by: null,
    initials: null,
    reason: null,
    other: null,
  };
  return {
    twice,
    contents: contents.map((one) => ({ ...nobody, container: `bottle ${one.label}`, ...one, at: vectorTime(one.at) })),
    former: former.map(({ captured, uncertaintyMs = 0, ...one }) => ({
      ...one,
      at: vectorTime(one.at),
      written: { at: vectorTime(captured ?? one.at), uncertaintyMs, client: null, mutation: null },
    })),
    now: now === undefined ? null : vectorTime(now),
  };
}
