import type { FastifyRequest } from 'fastify';

/** A secret of ours by its beginning, wherever it stands in an address. */
const SECRET = /wrt_[\w-]+/g;

/**
 * What the log says of a request. A token belongs into a header, which is not logged; one that somebody put into an
 * address is taken out, since logs are read by more people than tokens are meant for.
 */
export function loggedRequest({ method, url, host, ip }: FastifyRequest) {
  return { method, url: url.replace(SECRET, 'wrt_...'), host, remoteAddress: ip };
}
