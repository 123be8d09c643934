/**
 * Every limit of the wire in one table; the API serves it at GET /v1/limits and every refusal names its row.
 * Sizes in bytes. Chosen for a phone on a poor line and a server on a small machine; common practice, no source.
 */
export const LIMITS = {
  /** Body of an ordinary request. */
  bodyBytes: 1_048_576,
  /** Body of a push, all its lines. */
  pushBytes: 8_388_608,
  /** The first line of a push, which says what follows; an ordinary one has some 300. */
  pushHeaderBytes: 4_096,
  /** Mutations in one push. */
  pushMutations: 500,
  /** One line of a push. */
  mutationBytes: 65_536,
  /** Nesting of a JSON text. */
  jsonDepth: 32,
  /** Rows in one page of a feed. */
  feedPageRows: 1_000,
  /** Live streams that a token may have open at once. */
  streamsPerToken: 8,
  /** Live streams of one process of the server. */
  streams: 4_000,
  /** Items in one page of a list. */
  listPageItems: 200,
  /** Mutations that a revoked device may still hand in, to be looked at by a person. */
  revokedMutations: 10_000,
  /** A file of laboratory results. */
  resultsBytes: 2_097_152,
  /** Lines of it, without the heading. */
  resultsLines: 2_000,
  /** Records that one mutation may `require`. */
  requiresIds: 20,
} as const;

/**
 * What a query may ask at most. Common practice, no source; chosen so that the largest lawful query is read, checked
 * and refused in a few milliseconds.
 */
export const QUERY_LIMITS = {
  /** Bytes of the body, variables included. */
  bodyBytes: 16_384,
  /** Words and signs of the query. */
  tokens: 1_000,
  /** Steps from record to record and into what they hold; `edges`, `node`, `nodes` and `pageInfo` are none. */
  depth: 8,
  /** Fields in the text of the query. */
  fields: 400,
  /** Fields given another name. */
  aliases: 50,
  fragments: 30,
  /** `__schema` and `__type`. */
  introspections: 1,
  /** Values that the answer would hold if every page were full. */
  cost: 30_000,
  /** Milliseconds until the answer is given up. */
  timeMs: 8_000,
} as const;
