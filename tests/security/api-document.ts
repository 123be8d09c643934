import type { FastifyInstance } from 'fastify';
import type { Role } from '../../src/protocol/kind.ts';

/** JSON Schema as far as the document uses it. */
export interface Schema {
  readonly $ref?: string;
  readonly type?: string | readonly string[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly anyOf?: readonly Schema[];
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: boolean | Schema;
  readonly propertyNames?: Schema;
  readonly items?: Schema;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly pattern?: string;
  readonly format?: string;
}

export interface Parameter {
  readonly in: 'path' | 'query' | 'header';
  readonly name: string;
  readonly required?: boolean;
  readonly schema: Schema;
}

interface Content {
  readonly content?: Readonly<Record<string, { readonly schema: Schema }>>;
}

interface RawOperation {
  readonly operationId: string;
  readonly description: string;
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: Content;
  readonly responses: Readonly<Record<string, Content>>;
}

export type Method = 'GET' | 'POST' | 'PATCH' | 'PUT' | 'DELETE';

export interface Operation extends Omit<RawOperation, 'parameters' | 'requestBody'> {
  readonly method: Method;
  readonly path: string;
  readonly parameters: readonly Parameter[];
  /** What a body of JSON holds; null where the operation takes none. */
  readonly body: Schema | null;
  /** Other content types that it takes. */
  readonly takes: readonly string[];
  /** Empty where it is open. */
  readonly roles: readonly Role[];
}

export interface ApiDocument {
  readonly paths: Readonly<Record<string, Readonly<Record<string, RawOperation>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, Schema>> };
}

export async function documentOf(app: FastifyInstance): Promise<ApiDocument> {
  return (await app.inject({ url: '/v1/openapi.json' })).json();
}

function rolesIn(description: string): Role[] {
  const [, roles] = /Roles: ([a-z, ]+)\./.exec(description) ?? [];
  return (roles?.split(', ') ?? []) as Role[];
}

function operation(path: string, method: string, raw: RawOperation): Operation {
  const { parameters = [], requestBody, ...rest } = raw;
  const content = requestBody?.content ?? {};
  return {
    ...rest,
    path,
    method: method.toUpperCase() as Method,
    parameters,
    body: content['application/json']?.schema ?? null,
    takes: Object.keys(content),
    roles: rolesIn(raw.description),
  };
}

/** Every operation that is documented, so that a new one is met by whoever goes through them. */
export function operationsOf(document: ApiDocument): Operation[] {
  return Object.entries(document.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, raw]) => operation(path, method, raw)),
  );
}

/** The schema itself, where it is only named. */
export function resolved(document: ApiDocument, schema: Schema): Schema {
  const name = schema.$ref?.replace('#/components/schemas/', '');
  if (name === undefined) return schema;
  const found = document.components.schemas[name];
  if (!found) throw new Error(`the document has no schema ${name}`);
  return resolved(document, found);
}
