import type { HeadRow } from '../../../src/store/write/head-row.ts';
import { parsed } from './parsed.ts';
import type { Statements } from './statement.ts';
import { placeKey, type Tables, type TypedEntry } from './tables.ts';
import { textsIn } from './wire-array.ts';

function heldRow(tables: Tables, head: HeadRow): object {
  const { feed, parent, visit, rowHash, merge } = head;
  const state = tables.ledger.get(placeKey(feed, head.seq))?.state ?? 'null';
  return {
    feed,
    parent,
    visit,
    row_hash: rowHash,
    merge: merge === null ? null : parsed(merge),
    state: parsed(state),
  };
}

export function liveRows(tables: Tables, ids: Iterable<string>): object[] {
  return [...ids].flatMap((id) => {
    const head = tables.live.get(id);
    return head ? [heldRow(tables, head)] : [];
  });
}

function liveWhere(tables: Tables, fits: (head: HeadRow) => boolean): object[] {
  return [...tables.live.values()].filter(fits).map((head) => heldRow(tables, head));
}

export function idsWhere(tables: Tables, table: string, fits: (row: TypedEntry) => boolean): string[] {
  return [...tables.typedOf(table).values()].filter(fits).map((row) => String(row.id));
}

/** The coolers around samples, blanks, planned samples, events and sites. */
function coolersNear(tables: Tables, given: readonly (readonly string[])[]): object[] {
  const [samples, blanks, planned, events, sites] = given.map((ids) => new Set<unknown>(ids));
  const ids = (table: string, field: string, of: ReadonlySet<unknown> | undefined) =>
    idsWhere(tables, table, (row) => of?.has(row[field]) === true);
  const ofSamples = new Set([...(samples ?? []), ...ids('sample', 'planned', planned)]);
  const ofBlanks = new Set([...(blanks ?? []), ...ids('blank', 'planned', planned)]);
  const ofEvents = new Set([...(events ?? []), ...ids('event', 'site', sites)]);
  const inside = [...tables.typedOf('container').values()]
    .filter((row) => ofSamples.has(row.sample) || ofBlanks.has(row.blank) || planned?.has(row.planned))
    .flatMap(({ cooler }) => (typeof cooler === 'string' ? [cooler] : []));
  return [...new Set([...inside, ...ids('cooler', 'event', ofEvents)])].map((cooler) => ({ cooler }));
}

function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}

/** The visits with a sample that has a container for a group that a suite asks for otherwise. */
function suiteVisits(tables: Tables, names: readonly string[], groups: readonly (string | null)[]): object[] {
  const [containers, samples] = [[...tables.typedOf('container').values()], [...tables.typedOf('sample').values()]];
  const isOf = (container: TypedEntry, sample: TypedEntry) =>
    container.sample === sample.id ||
    ((container.sample ?? container.blank ?? null) === null &&
      typeof container.planned === 'string' &&
      container.planned === sample.planned);
  const visits = names.flatMap((name, at) => {
    const asked = groups[at] ?? null;
    const serves = ({ group, alsoGroups }: TypedEntry) =>
      asked === null || group === asked || listOf(alsoGroups).includes(asked);
    const isJudged = (sample: TypedEntry) => {
      const its = containers.filter((one) => isOf(one, sample));
      const isNamed = listOf(sample.suites).includes(name);
      if (isNamed && asked === null) return true;
      return its.some((one) => serves(one) && (isNamed || one.suite === name));
    };
    return samples.filter(isJudged).map(({ visit }) => String(visit));
  });
  return [...new Set(visits)].map((visit) => ({ visit }));
}

/** What each mutation is decided from. */
export const HELD_STATEMENTS: Statements = {
  'held-by-id': (tables, [, ids]) => liveRows(tables, textsIn(ids)),
  'held-of-visits': (tables, [, visits]) => {
    const wanted = new Set(textsIn(visits));
    return liveWhere(tables, ({ visit }) => visit !== null && wanted.has(visit));
  },
  'held-under': (tables, [, parents, kinds]) => {
    const wanted = new Set(textsIn(parents));
    const ofKinds = textsIn(kinds);
    return liveWhere(tables, ({ parent, kind }) => parent !== null && wanted.has(parent) && ofKinds.includes(kind));
  },
  'held-nest-wells': (tables, [, nests]) => {
    const wanted = textsIn(nests);
    return liveRows(
      tables,
      idsWhere(tables, 'well', ({ nest }) => wanted.includes(String(nest))),
    );
  },
  'held-well-claims': (tables, [, events, wells]) => {
    const wanted = textsIn(events).map((event, index) => `${event} ${textsIn(wells)[index]}`);
    const fits = ({ event, well }: TypedEntry) => wanted.includes(`${event} ${well}`);
    return liveRows(tables, idsWhere(tables, 'well_claim', fits));
  },
  'held-visits-at-wells': (tables, [, events, wells]) => {
    const wanted = textsIn(events).map((event, index) => `${event} ${textsIn(wells)[index]}`);
    const fits = ({ event, well }: TypedEntry) => wanted.includes(`${event} ${well}`);
    return liveRows(tables, idsWhere(tables, 'visit', fits));
  },
  'held-sign-outs': (tables, [, units]) => {
    const wanted = textsIn(units);
    return liveRows(
      tables,
      idsWhere(tables, 'sign_out', ({ unit }) => wanted.includes(String(unit))),
    );
  },
  'held-sample-containers': (tables, [, samples, planned]) => {
    const [wanted, plans] = [new Set(textsIn(samples)), new Set(textsIn(planned))];
    const isLabelled = (row: TypedEntry) =>
      plans.has(String(row.planned)) && (row.sample ?? null) === null && (row.blank ?? null) === null;
    return liveRows(
      tables,
      idsWhere(tables, 'container', (row) => wanted.has(String(row.sample)) || isLabelled(row)),
    );
  },
  'held-plan-samples': (tables, [, planned]) => {
    const wanted = new Set(textsIn(planned));
    return liveRows(
      tables,
      idsWhere(tables, 'sample', (row) => wanted.has(String(row.planned))),
    );
  },
  'held-labelled-containers': (tables, [, events, labels]) => {
    const wanted = textsIn(events).map((event, index) => `${event} ${textsIn(labels)[index]}`);
    const fits = ({ event, label }: TypedEntry) => wanted.includes(`${event} ${label}`);
    return liveRows(tables, idsWhere(tables, 'container', fits));
  },
  'held-named-suites': (tables, [, names]) => {
    const wanted = textsIn(names);
    return liveRows(
      tables,
      idsWhere(tables, 'analyte_suite', ({ name }) => wanted.includes(String(name))),
    );
  },
  'held-suite-containers': (tables, [, names]) => {
    const wanted = textsIn(names);
    const fits = ({ suite, sample }: TypedEntry) => wanted.includes(String(suite)) && (sample ?? null) === null;
    return liveRows(tables, idsWhere(tables, 'container', fits));
  },
  'suite-visits': (tables, [, names, groups]) => suiteVisits(tables, textsIn(names), groups as (string | null)[]),
  'held-cooler-containers': (tables, [, coolers]) => {
    const wanted = new Set(textsIn(coolers));
    return liveRows(
      tables,
      idsWhere(tables, 'container', ({ cooler }) => wanted.has(String(cooler))),
    );
  },
  'held-cooler-receipts': (tables, [, coolers]) => {
    const wanted = new Set(textsIn(coolers));
    return liveRows(
      tables,
      idsWhere(tables, 'sample_receipt', ({ cooler }) => wanted.has(String(cooler))),
    );
  },
  'coolers-around': (tables, [, ...given]) => coolersNear(tables, given.map(textsIn)),
  'affected-visits': (tables, [, wells, nests, events, units]) =>
    affected(tables, [wells, nests, events, units].map(textsIn)),
  'clashes-naming': (tables, [, ids]) => clashes(tables, new Set(textsIn(ids))),
};

function affected(tables: Tables, [wells = [], nests = [], events = [], units = []]: (readonly string[])[]) {
  const all = (table: string) => [...tables.typedOf(table).values()];
  const has = (ids: readonly string[], ...values: unknown[]) => values.some((value) => ids.includes(String(value)));
  const ownNests = all('well').flatMap((well) =>
    has(wells, well.id) && well.nest !== null ? [String(well.nest)] : [],
  );
  const nested = new Set([...nests, ...ownNests]);
  const near = all('well').filter(({ nest }) => nest !== null && nested.has(String(nest)));
  const wellIds = [...wells, ...near.map(({ id }) => String(id))];
  const visits = all('visit').filter(({ well, event }) => has(wellIds, well) || has(events, event));
  const visitOfPurge = new Map(all('purge').map(({ id, visit }) => [id, visit]));
  const ofUnits = [
    ...all('pump_set_up').flatMap(({ visit, pump, flow_cell }) => (has(units, pump, flow_cell) ? [visit] : [])),
    ...[...all('water_level'), ...all('sounding')].flatMap(({ visit, tape }) => (has(units, tape) ? [visit] : [])),
    ...[...all('reading'), ...all('occurrence')].flatMap(({ purge, meter }) =>
      has(units, meter) ? [visitOfPurge.get(purge)] : [],
    ),
  ];
  return [...new Set([...visits.map(({ id }) => id), ...ofUnits])].map((id) => ({ id }));
}

function clashes(tables: Tables, ids: ReadonlySet<string>) {
  const rows = (table: string) => [...tables.typedOf(table).values()];
  const named = (...values: unknown[]) => values.some((value) => ids.has(String(value)));
  const found = rows('conflict').filter((one) => {
    if (one.voided === true) return false;
    if (one.type === 'well-claim') {
      const subject = tables.typedOf('well_claim').get(String(one.subject));
      const same = rows('well_claim').filter(({ event, well }) => event === subject?.event && well === subject?.well);
      return same.some(({ crew, pump, well }) => named(crew, pump, well));
    }
    if (one.type !== 'sign-out') return false;
    const subject = tables.typedOf('sign_out').get(String(one.subject));
    return rows('sign_out').some(({ unit, crew }) => unit === subject?.unit && named(unit, crew));
  });
  return [...new Set(found.map(({ subject }) => String(subject)))].map((id) => ({ id }));
}
