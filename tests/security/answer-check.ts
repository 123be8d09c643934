import type { ValidateFunction } from 'ajv';
import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import ICAL from 'ical.js';
import { readCsv } from '../documents/read-csv.ts';
import { readXml } from '../documents/support/read-xml.ts';
import type { ApiDocument, Operation } from './api-document.ts';
import type { Request } from './request-arbitrary.ts';
import type { Answered, Speaker } from './speaker.ts';

/** Compares answers with what the document says of them. */
export class AnswerCheck {
  readonly #ajv: Ajv2020;
  readonly #known = new Map<string, ValidateFunction>();

  constructor(document: ApiDocument) {
    this.#ajv = new Ajv2020({ strict: false, allErrors: false });
    (addFormats as unknown as (ajv: Ajv2020) => void)(this.#ajv);
    this.#ajv.addSchema({ $id: 'api', components: document.components });
  }

  #validator(operation: Operation, status: string, type: string): ValidateFunction | null {
    const key = `${operation.operationId} ${status} ${type}`;
    const known = this.#known.get(key);
    if (known) return known;
    const schema = operation.responses[status]?.content?.[type]?.schema;
    if (!schema) return null;
    const text = JSON.stringify(schema).replaceAll('"#/components/', '"api#/components/');
    const made = this.#ajv.compile(JSON.parse(text) as object);
    this.#known.set(key, made);
    return made;
  }

  /** @returns what is wrong with an answer; null where it is as the document says */
  fault(operation: Operation, { status, headers, text }: Answered): string | null {
    if (status >= 500) return `${status}: ${text}`;
    const documented = operation.responses[String(status)];
    if (!documented) return `${status} is not documented: ${text.slice(0, 300)}`;
    if (status === 304) return text === '' ? null : `304 with a body`;
    const type = String(headers['content-type'] ?? '').split(';')[0] ?? '';
    const validate = this.#validator(operation, String(status), type);
    if (!validate) return `${status} of the type ${type} is not documented`;
    const body = READ[type]?.(text) ?? parsed(text);
    if (body === undefined) return `the body cannot be read as ${type}: ${text.slice(0, 300)}`;
    if (validate(body)) return null;
    return `the body is not as documented: ${this.#ajv.errorsText(validate.errors)}: ${text.slice(0, 300)}`;
  }
}

/** CSV of which every line has as many cells as its head. */
function whole(text: string): string | undefined {
  try {
    const [head = [], ...lines] = readCsv(text);
    return lines.every((line) => line.length === head.length) ? text : undefined;
  } catch {
    return undefined;
  }
}

/** A picture of which all is there. */
function drawn(text: string): string | undefined {
  return text.startsWith('<svg ') && text.trimEnd().endsWith('</svg>') ? text : undefined;
}

/** XML and calendars by parsers of other makers. */
function wellFormed(text: string): string | undefined {
  try {
    readXml(text);
    return text;
  } catch {
    return undefined;
  }
}

function calendar(text: string): string | undefined {
  try {
    ICAL.parse(text);
    return text;
  } catch {
    return undefined;
  }
}

const READ: Readonly<Record<string, (text: string) => string | undefined>> = {
  'application/xml': wellFormed,
  'text/calendar': calendar,
  'application/pdf': (text) => (text.startsWith('%PDF-') && text.trimEnd().endsWith('%%EOF') ? text : undefined),
  'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet': (text) =>
    text.startsWith('PK') ? text : undefined,
  'text/csv': whole,
  'image/svg+xml': drawn,
};

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

const MANNER = ['id', 'base', 'reason', 'by', 'requires', 'clock'];

/** The fields that a body sets. */
function fieldsSent(sent: Readonly<Record<string, unknown>>): Record<string, unknown> {
  return Object.fromEntries(Object.entries(sent).filter(([name]) => !MANNER.includes(name)));
}

/** Whether a value is kept as it was sent. Null means the same as missing, also inside a value. */
export function same(kept: unknown, sent: unknown): boolean {
  if (sent === null || sent === undefined) return kept === undefined || kept === null;
  if (typeof sent !== 'object') return kept === sent;
  if (typeof kept !== 'object' || kept === null) return false;
  const names = new Set([...Object.keys(sent), ...Object.keys(kept)]);
  return [...names].every((name) => same(Reflect.get(kept, name), Reflect.get(sent, name)));
}

/** What was taken has to be there as it was sent. @returns what is not */
export async function lostOf(request: Request, answer: Answered, office: Speaker): Promise<string | null> {
  const { sent, operation } = request;
  const outcome = parsed(answer.text) as { setAside?: string; id?: string; kind?: string } | undefined;
  if (sent === null || outcome === undefined) return null;
  if (answer.status === 202) {
    const { text } = await office.ask({ method: 'GET', url: `/v1/set-asides/${outcome.setAside}` });
    const kept = parsed((parsed(text) as { text?: string }).text ?? '') as { set?: object } | undefined;
    return same(kept?.set ?? {}, setIn(operation, sent)) ? null : `set aside as ${text}`;
  }
  const plural = operation.path.split('/')[2];
  const isRecord = operation.path === `/v1/${plural}` && answer.status === 201 && outcome.kind !== undefined;
  const isChange = operation.method === 'PATCH' && answer.status === 200;
  if (!isRecord && !isChange) return null;
  const { text } = await office.ask({ method: 'GET', url: `/v1/${plural}/${outcome.id}` });
  const { fields } = parsed(text) as { fields: Readonly<Record<string, unknown>> };
  const lost = Object.entries(fieldsSent(sent)).filter(([name, value]) => !same(fields[name], value));
  return lost.length === 0 ? null : `${JSON.stringify(lost)} were sent, kept is ${text}`;
}

function setIn({ path, method }: Operation, sent: Readonly<Record<string, unknown>>): unknown {
  if (method === 'PATCH' || path.split('/').length === 3) return fieldsSent(sent);
  const { neither, value, well, event } = sent;
  if (path.endsWith('/resolve')) return { value, neither };
  return path.endsWith('/rehome') ? { ...(well ? { well } : {}), ...(event ? { event } : {}) } : {};
}
