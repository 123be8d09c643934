import fc from 'fast-check';
import type { Role } from '../../src/protocol/kind.ts';
import type { ApiDocument, Operation } from './api-document.ts';
import { type FirmIds, kindInPath } from './firm-ids.ts';
import { NAMED_TEXTS } from './plant.ts';
import { arbitraryOf, type Making } from './schema-arbitrary.ts';
import type { Asked } from './speaker.ts';

/** A request of ours with one place left open, for an id of the other firm or for one that nobody has. */
export interface Attack {
  /** Such as `GET /v1/wells`. */
  readonly name: string;
  /** Who may do it. */
  readonly roles: readonly Role[];
  /** Such as `path id`, `query well`, `body observed/readBy`. */
  readonly place: string;
  readonly with: (id: string) => Asked;
  /** What the other firm has at such a place. */
  readonly foreign: string;
}

export interface Aim {
  readonly document: ApiDocument;
  readonly ours: FirmIds;
  readonly theirs: FirmIds;
}

/** Which of the ids of a kind attacks name. The second of each is never named, and must not be seen by them. */
const NAMED = 0;
/** A firm may make a record under an id that another firm has too: through REST this one, through GraphQL that. */
const TAKEN_BY_REST = 2;
export const TAKEN_BY_GRAPHQL = 3;
export const SPENT: readonly number[] = [NAMED, TAKEN_BY_REST, TAKEN_BY_GRAPHQL];

const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[1-8][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;

function makingOf({ document, ours }: Aim): Making {
  return {
    document,
    whole: true,
    ids: (field) => fc.constant(ours.forField(field)),
    texts: (field) => fc.constant(NAMED_TEXTS[field] ?? 'plain'),
    // what may be any value may be an id
    anything: fc.constant(ours.of('visit')),
    // not past: a token expires then
    instants: fc.constant('2026-05-06T10:00:00-05:00'),
  };
}

/** A body with everything that one may say, and with our own records in it. */
const OPEN = { from: '09:00', until: '17:00' };
const ABOVE_ZERO = ['volumeMl', 'holdingHours', 'extractionHours', 'extractToAnalysisHours'];

/** Parts that a schema does not tell all of: hours that end after they begin, figures that must be above zero. */
function untold({ receiving, alsoOpen, handlingHours, groups }: Record<string, unknown>): Record<string, unknown> {
  const figures = Object.fromEntries(ABOVE_ZERO.map((name) => [name, '24']));
  return {
    ...(Array.isArray(receiving) ? { receiving: receiving.map((hours) => ({ ...hours, ...OPEN })) } : {}),
    ...(Array.isArray(alsoOpen) ? { alsoOpen: alsoOpen.map((hours) => ({ ...hours, ...OPEN })) } : {}),
    ...(handlingHours === undefined ? {} : { handlingHours: '4' }),
    ...(Array.isArray(groups) ? { groups: groups.map((group) => ({ ...group, ...figures })) } : {}),
  };
}

export function wholeBody({ body, path }: Operation, aim: Aim): Record<string, unknown> | undefined {
  if (body === null) return undefined;
  const [made] = fc.sample(arbitraryOf(body, '', makingOf(aim)), { seed: 7, numRuns: 1 });
  const whole = made as Record<string, unknown>;
  // a number that several coolers have names none: its bottles are loose
  // what can only be a typing error is refused before anything else is looked at
  if (path.endsWith('/receipts'))
    Object.assign(whole, {
      cooler: undefined,
      received: '2026-05-04T10:00:00Z',
      temperatureC: '4.0',
      items: [],
      containersCounted: 1,
    });
  if (whole.base) whole.base = { rev: 1 };
  // what a plan may say is bound by rules that no schema tells
  if (whole.plan) whole.plan = { criteria: NAMED_TEXTS.criteria };
  return { ...whole, ...untold(whole) };
}

function urlOf({ path }: Operation, id: string, feed: string): string {
  const named = path.replace('{id}', id).replace('{feed}', encodeURIComponent(feed)).replace('{code}', 'not_found');
  // the second id of an address: one that nobody has
  return named.replace('{discrepancy}', '0190f000-0000-7000-8000-000000000000');
}

function ownUrl(operation: Operation, { ours }: Aim): string {
  const id = operation.path.includes('{id}') ? ours.inPath(operation.path) : '';
  return urlOf(operation, id, `event:${ours.of('event')}`);
}

function who({ method, path, roles }: Operation): Pick<Attack, 'name' | 'roles'> {
  return { name: `${method} ${path}`, roles };
}

function pathAttacks(operation: Operation, aim: Aim): Attack[] {
  const { path, method } = operation;
  const payload = wholeBody(operation, aim);
  const asked = (url: string): Asked => ({
    method,
    url,
    ...(payload ? { payload: without(payload, ['requires']) } : {}),
  });
  if (path.includes('{id}') && kindInPath(path) !== null) {
    const place = { ...who(operation), place: 'path id', foreign: aim.theirs.inPath(path) };
    return [{ ...place, with: (id) => asked(urlOf(operation, id, '')) }];
  }
  if (!path.includes('{feed}')) return [];
  return ['event', 'site'].map((kind) => ({
    ...who(operation),
    place: `path feed ${kind}`,
    foreign: aim.theirs.of(kind),
    with: (id) => asked(urlOf(operation, '', `${kind}:${id}`)),
  }));
}

function queryAttacks(operation: Operation, aim: Aim): Attack[] {
  const { method, parameters } = operation;
  const url = ownUrl(operation, aim);
  const ids = parameters.filter(({ in: at, schema }) => at === 'query' && schema.format === 'uuid');
  const byId = ids.map(({ name }): Attack => {
    return {
      ...who(operation),
      place: `query ${name}`,
      foreign: aim.theirs.forField(name),
      with: (id) => ({ method, url: `${url}?${name}=${id}` }),
    };
  });
  const named = parameters.some(({ in: at, name }) => at === 'query' && name === 'feed');
  const feeds = named ? ['event', 'site'] : [];
  const byFeed = feeds.map((kind): Attack => {
    return {
      ...who(operation),
      place: `query feed ${kind}`,
      foreign: aim.theirs.of(kind),
      with: (id) => ({ method, url: `${url}?feed=${kind}:${id}` }),
    };
  });
  return [...byId, ...byFeed];
}

function without(body: Record<string, unknown>, names: readonly string[]): Record<string, unknown> {
  return Object.fromEntries(Object.entries(body).filter(([name]) => !names.includes(name)));
}

export function replaced(value: unknown, path: readonly string[], id: string): unknown {
  const [at, ...below] = path;
  if (at === undefined) return id;
  if (Array.isArray(value)) return value.map((one, index) => (String(index) === at ? replaced(one, below, id) : one));
  return { ...(value as object), [at]: replaced(Reflect.get(value as object, at), below, id) };
}

/** Where in a value ids stand. */
export function idPlaces(value: unknown, path: readonly string[] = []): string[][] {
  if (typeof value === 'string') return UUID.test(value) ? [[...path]] : [];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, inner]) => idPlaces(inner, [...path, name]));
}

function bodyAttacks(operation: Operation, aim: Aim): Attack[] {
  const whole = wholeBody(operation, aim);
  if (!whole) return [];
  const { method } = operation;
  const url = ownUrl(operation, aim);
  return idPlaces(whole).map((path): Attack => {
    const [top = '', ...below] = path;
    const field = path.findLast((part) => !/^\d+$/.test(part)) ?? '';
    const foreign =
      path.join('/') === 'id' ? aim.theirs.inPath(operation.path, TAKEN_BY_REST) : aim.theirs.forField(field);
    const rest = without(whole, ['id', 'requires']);
    return {
      ...who(operation),
      place: `body ${path.join('/')}`,
      foreign,
      with: (id) => ({ method, url, payload: { ...rest, [top]: replaced(whole[top], below, id) } }),
    };
  });
}

/** Every place of an operation where an id may stand, of a record, a feed, a client, a token or what was set aside. */
export function attacksOn(operation: Operation, aim: Aim): Attack[] {
  return [...pathAttacks(operation, aim), ...queryAttacks(operation, aim), ...bodyAttacks(operation, aim)];
}

/** A request of ours that names nothing of anybody else. */
export function plainRead(operation: Operation, aim: Aim): Asked {
  return { method: operation.method, url: ownUrl(operation, aim) };
}
