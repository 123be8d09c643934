import swaggerUi from '@fastify/swagger-ui';
import type { FastifyInstance } from 'fastify';

/** What the page needs and the rest of the server does not: its own scripts, and styles that it sets on elements. */
const POLICY = [
  "default-src 'none'",
  "base-uri 'none'",
  "connect-src 'self'",
  "font-src 'self' data:",
  "form-action 'none'",
  "frame-ancestors 'none'",
  "img-src 'self' data:",
  "script-src 'self'",
  "style-src 'self' 'unsafe-inline'",
].join('; ');

/** Our name where the page would show the sign of the web framework. */
const NAME = `<svg xmlns="http://www.w3.org/2000/svg" width="150" height="40" role="img" aria-label="Wellround">
<text x="0" y="28" font-family="sans-serif" font-size="26" font-weight="bold" fill="#fff">Wellround</text></svg>`;

/** The API reference at /v1/reference/, from files that are installed with the server: it asks nothing of the network. */
export function referencePage(app: FastifyInstance, _options: object, done: () => void): void {
  // its routes are made by the package, so they cannot say for themselves that anyone may look
  app.addHook('onRoute', (route) => {
    route.config = { ...route.config, access: 'open' };
  });
  void app.register(swaggerUi, {
    routePrefix: '/v1/reference',
    staticCSP: POLICY,
    logo: { type: 'image/svg+xml', content: Buffer.from(NAME), href: '/v1/reference/', target: '_self' },
    theme: { title: 'Wellround API' },
    uiConfig: { docExpansion: 'none', deepLinking: true, persistAuthorization: false },
  });
  done();
}
