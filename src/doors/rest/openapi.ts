import swagger, { type SwaggerTransform } from '@fastify/swagger';
import type { FastifyInstance } from 'fastify';
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod';
import type { Access } from '../authenticate.ts';
import { tidyComponents } from './tidy-components.ts';

const INFO = {
  title: 'Wellround',
  version: '1',
  description:
    'The server of a low-flow groundwater sampling round. Records are read and written one by one here, in batches ' +
    'by push; phones and live screens follow feeds. A field record is never refused for its content: it is taken, ' +
    'merged, kept beside a rival, or set aside as it came. Every refusal is a problem (RFC 9457) with a code of ' +
    '/v1/problems.',
};

const TAGS = [
  { name: 'sync', description: 'Push, pull and verify: what a phone does' },
  { name: 'me', description: 'Whose token this is' },
  { name: 'token', description: 'Who may speak to the server' },
  { name: 'set-aside', description: 'What was handed in and not applied' },
  { name: 'question', description: 'Answers that store nothing' },
  {
    name: 'catalogue',
    description: 'Kinds, limits, codes, criteria sets, rules, and the catalog of the trade with its sources',
  },
  { name: 'health', description: 'Probes' },
];

interface Documented {
  readonly operationId?: string;
  readonly description?: string;
}

function rolesOf(access: Access | undefined): string {
  return access === undefined || access === 'open' ? 'Open: no token.' : `Roles: ${access.join(', ')}.`;
}

/** A route without an operationId is a page or a file, or of GraphQL, which describes itself. */
const describeRoute: SwaggerTransform = (document) => {
  const { schema, url, route } = document;
  const { operationId, description } = (schema ?? {}) as Documented;
  if (operationId === undefined) return { schema: { hide: true }, url };
  const access = route.config?.access;
  const security = access === 'open' ? { security: [] } : {};
  const text = [description, rolesOf(access)].filter(Boolean).join(' ');
  return jsonSchemaTransform({ ...document, schema: { ...schema, ...security, description: text } });
};

/**
 * Describes every route that says what it is called, wherever it is registered. On the root instance, so that no door
 * is overlooked; the compilers for zod belong to the doors that use them, as others have compilers of their own.
 */
export async function describeApi(app: FastifyInstance): Promise<void> {
  await app.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: INFO,
      tags: TAGS,
      components: { securitySchemes: { token: { type: 'http', scheme: 'bearer' } } },
      security: [{ token: [] }],
    },
    convertConstToEnum: false,
    transform: describeRoute,
    transformObject: (document) => tidyComponents(jsonSchemaTransformObject(document)),
  });
}
