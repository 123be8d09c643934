import fc from 'fast-check';
import { EVERY_ROLE } from '../../src/doors/authenticate.ts';
import type { Role } from '../../src/protocol/kind.ts';
import type { ApiDocument, Operation, Parameter } from './api-document.ts';
import type { FirmIds } from './firm-ids.ts';
import { spoil } from './nasty.ts';
import { NAMED_TEXTS } from './plant.ts';
import { arbitraryOf, type Making } from './schema-arbitrary.ts';

/** A request that may be good or spoilt. */
export interface Request {
  readonly operation: Operation;
  readonly role: Role;
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly payload: string | Buffer | undefined;
  /** The value of the body, where it went as it is. */
  readonly sent: Readonly<Record<string, unknown>> | null;
  readonly what: string;
}

export interface Ground {
  readonly document: ApiDocument;
  readonly ids: FirmIds;
  /** Cursors that the server gave, by the path of the operation, to be spoilt. */
  readonly cursors: ReadonlyMap<string, string>;
}

/** Once in so many times. */
function seldom(times: number, arbitrary: fc.Arbitrary<string>): fc.Arbitrary<string | undefined> {
  return fc.oneof({ weight: times - 1, arbitrary: fc.constant(undefined) }, { weight: 1, arbitrary });
}

function idsFor(field: string, { ids }: Ground): fc.Arbitrary<string> {
  const own = ids.byKind.get(ids.kindOfField(field)) ?? ids.all();
  return fc.oneof(
    { weight: 40, arbitrary: fc.constantFrom(...own) },
    { weight: 1, arbitrary: fc.constantFrom(...ids.all()) },
    { weight: 1, arbitrary: fc.uuid({ version: 7 }) },
  );
}

export function making(ground: Ground): Making {
  return {
    document: ground.document,
    whole: false,
    // what is recorded mostly leaves its id to the server
    ids: (field) => (field === 'id' ? fc.uuid({ version: 7 }) : idsFor(field, ground)),
    texts: (field) => {
      const named = NAMED_TEXTS[field];
      return named === undefined ? null : fc.constant(named);
    },
  };
}

/** Cursors as they are, with another place in them, and texts that are none. */
function cursorsOf(path: string, { cursors }: Ground): fc.Arbitrary<string> {
  const own = cursors.get(path) ?? '';
  const given = fc.oneof({ weight: 4, arbitrary: fc.constant(own) }, fc.constantFrom(own, ...cursors.values()));
  const other = fc.tuple(
    given,
    fc.constantFrom(
      '-'.repeat(36),
      '2026-99-99T00:00:00Z x',
      'f'.repeat(36),
      '0',
      '',
      '\u0000',
      '99999999999999999999',
    ),
  );
  const bent = other.map(([cursor, place]) => {
    const read = (): unknown => {
      try {
        return JSON.parse(Buffer.from(cursor.split('.')[0] ?? '', 'base64url').toString('utf8'));
      } catch {
        return null;
      }
    };
    const inside = read();
    const next = Array.isArray(inside) ? [...inside.slice(0, -1), place] : { ...(inside as object), s: Number(place) };
    return (
      Buffer.from(JSON.stringify(next)).toString('base64url') +
      cursor.slice(cursor.indexOf('.') < 0 ? cursor.length : cursor.indexOf('.'))
    );
  });
  return fc.oneof(given, bent, fc.string());
}

/** Parameters that are read before anything else is looked at. */
const NASTY_PARAMETERS = [
  '',
  '%00',
  '%ED%A0%80',
  '%ff',
  '%',
  '..',
  '%2F',
  "'",
  '-1',
  '1e3',
  '0x1',
  '9007199254740993',
  'x'.repeat(300),
];

function parameterOf(parameter: Parameter, path: string, ground: Ground): fc.Arbitrary<string> {
  const { name, schema } = parameter;
  const feeds = fc.constantFrom('firm', `event:${ground.ids.of('event')}`, `site:${ground.ids.of('site')}`, 'event:x');
  const good =
    name === 'cursor'
      ? cursorsOf(path, ground)
      : name === 'feed'
        ? feeds
        : arbitraryOf(schema, name, making(ground)).map(String);
  return fc.oneof(
    { weight: 20, arbitrary: good.map(encode) },
    { weight: 1, arbitrary: fc.constantFrom(...NASTY_PARAMETERS) },
  );
}

function encode(text: string): string {
  return encodeURIComponent(text.toWellFormed());
}

function pathOf(operation: Operation, ground: Ground): fc.Arbitrary<string> {
  const [plural = ''] = operation.path.split('/').slice(operation.path.startsWith('/v1/laboratory/') ? 3 : 2);
  const kind = ground.ids.kindOfPlural(plural);
  const own = kind === null ? ['epa-region-1-low-stress-rev-4', 'x'] : (ground.ids.byKind.get(kind) ?? []);
  const places: Record<string, fc.Arbitrary<string>> = {
    id: fc.oneof(
      { weight: 30, arbitrary: fc.constantFrom(...own) },
      { weight: 1, arbitrary: fc.constantFrom(ground.ids.of('visit'), ...NASTY_PARAMETERS.slice(1)) },
    ),
    feed: parameterOf({ in: 'path', name: 'feed', schema: { type: 'string' } }, '', ground),
    code: fc.constantFrom('not_found', 'x', '__proto__', '%00'),
    discrepancy: fc.constantFrom(ground.ids.of('discrepancy'), 'x', '%00'),
  };
  return fc
    .record(places)
    .map((values) => operation.path.replace(/\{(\w+)\}/g, (_, name: string) => String(Reflect.get(values, name))));
}

function queryOf(operation: Operation, ground: Ground): fc.Arbitrary<string> {
  const named = operation.parameters.filter((one) => one.in === 'query');
  const model = Object.fromEntries(named.map((one) => [one.name, seldom(2, parameterOf(one, operation.path, ground))]));
  const strange = fc.constantFrom('colour=red', 'limit=1&limit=2', '__proto__=1', 'cursor[]=1', '&&=');
  const extra = fc.oneof({ weight: 12, arbitrary: fc.constant('') }, { weight: 1, arbitrary: strange });
  return fc.tuple(fc.record(model), extra).map(([given, more]) => {
    const parts = Object.entries(given).flatMap(([name, value]) =>
      value === undefined ? [] : [`${name}=${String(value)}`],
    );
    const all = [...parts, ...(more === '' ? [] : [more])].join('&');
    return all === '' ? '' : `?${all}`;
  });
}

const key = fc.oneof({ weight: 6, arbitrary: fc.uuid() }, fc.constantFrom('monday-1', 'ü', 'x'.repeat(256), ' ', '{}'));
const TAGS = ['"1"', '"2"', '*', 'W/"1"', '"x"', '1', '"1","2"', '"999999999"', '"1-0123456789abcdef"'];
const TYPES = [
  'application/json',
  'application/json',
  'application/json',
  'application/json; charset=utf-8',
  'text/plain',
  'application/jsonx',
  'application/x-ndjson',
  'application/json; charset=latin1',
  'multipart/form-data',
  '',
  'a/b;',
];

function headersOf(operation: Operation): fc.Arbitrary<Record<string, string>> {
  const body =
    operation.body === null
      ? seldom(3, fc.constantFrom(...TYPES))
      : fc.oneof({ weight: 40, arbitrary: fc.constant('application/json') }, fc.constantFrom(...TYPES));
  const model = {
    'content-type': body,
    'idempotency-key': operation.method === 'GET' ? fc.constant(undefined) : seldom(3, key),
    'if-match': operation.method === 'GET' ? fc.constant(undefined) : seldom(12, fc.constantFrom(...TAGS)),
    'if-none-match': seldom(12, fc.constantFrom(...TAGS)),
    'content-encoding': seldom(40, fc.constant('gzip')),
    accept: seldom(6, fc.constantFrom('application/json', 'text/html', 'x')),
  };
  return fc
    .record(model)
    .map((all) =>
      Object.fromEntries(Object.entries(all).filter((pair): pair is [string, string] => pair[1] !== undefined)),
    );
}

/** What a change has to say, which no schema tells: mostly it does. */
function mannerOf({ path, method }: Operation): fc.Arbitrary<object> {
  if (method !== 'PATCH' && !/\/(void|rehome|resolve)$/.test(path)) return fc.constant({});
  const base = fc.integer({ min: 1, max: 4 }).map((rev) => ({ rev }));
  const said = fc.record({ base, reason: fc.constant('a fuzz') });
  return fc.oneof({ weight: 9, arbitrary: said }, { weight: 1, arbitrary: fc.constant({}) });
}

/** What takes no body is sent one for once. */
function noBody({ method }: Operation): fc.Arbitrary<Pick<Request, 'payload' | 'sent' | 'what'>> {
  const none = fc.constant({ payload: undefined, sent: null, what: 'no body' });
  if (method === 'GET') return none;
  const some = fc
    .constantFrom('{}', '{"a":1}', '[', 'null')
    .map((payload) => ({ payload, sent: null, what: 'a body' }));
  return fc.oneof(none, some);
}

function bodyOf(operation: Operation, ground: Ground): fc.Arbitrary<Pick<Request, 'payload' | 'sent' | 'what'>> {
  if (operation.body === null) return noBody(operation);
  const made = fc.tuple(arbitraryOf(operation.body, '', making(ground)), mannerOf(operation));
  const body = made.map(([value, manner]) => ({ ...(value as object), ...manner }));
  return fc.tuple(body, spoil).map(([value, { what, spoil: act }]) => {
    const text = JSON.stringify(value) ?? 'null';
    return { payload: act(text, value), sent: what === 'as it is' ? (value as Record<string, unknown>) : null, what };
  });
}

/** Requests of an operation, most of them good in all but one thing. */
export function requestsOf(operation: Operation, ground: Ground): fc.Arbitrary<Request> {
  const roles = operation.roles.length > 0 ? operation.roles : EVERY_ROLE;
  const role = fc.oneof(
    { weight: 20, arbitrary: fc.constantFrom(...roles) },
    { weight: 1, arbitrary: fc.constantFrom(...EVERY_ROLE) },
  );
  return fc
    .tuple(role, pathOf(operation, ground), queryOf(operation, ground), headersOf(operation), bodyOf(operation, ground))
    .map(([by, path, query, headers, body]) => ({ operation, role: by, url: path + query, headers, ...body }));
}
