/**
 * Every limit of the wire in one table; the API serves it at GET /v1/limits and every refusal names its row.
 * Sizes in bytes. Chosen for a phone on a poor line and a server on a small machine; common practice, no source.
 */
export const LIMITS = {
  /** Body of an ordinary request. */
  bodyBytes: 1_048_576,
  /** Body of a push, all its lines. */
  pushBytes: 8_388_608,
  /** Mutations in one push. */
  pushMutations: 500,
  /** One line of a push. */
  mutationBytes: 65_536,
  /** Nesting of a JSON text. */
  jsonDepth: 32,
  /** Rows in one page of a feed. */
  feedPageRows: 1_000,
  /** Items in one page of a list. */
  listPageItems: 200,
  /** Mutations that a revoked device may still hand in, to be looked at by a person. */
  revokedMutations: 10_000,
  /** Records that one mutation may `require`. */
  requiresIds: 20,
} as const;
