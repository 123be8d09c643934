import { z } from 'zod';
import { LIMITS } from './limits.ts';
import { id, instant, text } from './primitives.ts';

export const VERBS = ['record', 'amend', 'void', 'rehome', 'resolve', 'release'] as const;
export type Verb = (typeof VERBS)[number];

const count = z.int().min(0).max(Number.MAX_SAFE_INTEGER);

export const deviceClock = z.strictObject({
  wall: instant,
  monotonicMs: count,
  boot: text(64),
  sequence: count,
});

/**
 * What the writer had seen when it made the change: a revision; or "what I had after my own mutation n" for a change
 * of something that has not been synced yet; or, where the server was set back and revisions no longer mean anything,
 * the values themselves of the fields that it sets.
 *
 * With a revision goes `under` where own mutations that it does not tell of lay over it: the fields whose values on the
 * screen were of those, each with the revision last seen of it under them (0: none), and `$voided` where one of them is a
 * void. It is empty where they set no field.
 */
export const base = z.union([
  z.strictObject({
    rev: z.int().min(1).max(Number.MAX_SAFE_INTEGER),
    under: z.record(z.string(), count).optional(),
  }),
  z.strictObject({ after: z.int().min(1).max(Number.MAX_SAFE_INTEGER) }),
  z.strictObject({ was: z.record(z.string(), z.unknown()) }),
]);

/**
 * One change by one person. `set` holds the fields of the kind: all of them for `record`, the changed ones for
 * `amend` and `rehome`, `{ value }` for `resolve` (and `neither`), nothing for `void` and `release`.
 */
export const mutation = z.strictObject({
  mutationId: z.int().min(1).max(Number.MAX_SAFE_INTEGER).describe('1, 2, 3 ... without a gap, per client'),
  verb: z.enum(VERBS),
  kind: text(64),
  id,
  base: base.optional(),
  set: z.record(z.string(), z.unknown()).optional(),
  reason: text(1_000).optional(),
  requires: z.array(id).max(LIMITS.requiresIds).optional(),
  by: id.optional().describe('The member at the device; the person whom the server knows there if missing'),
  clock: deviceClock.optional(),
});
export type Mutation = z.output<typeof mutation>;

/** What became of a mutation. */
export const OUTCOMES = ['applied', 'merged', 'conflict_kept', 'set_aside', 'refused'] as const;

export const outcome = z.strictObject({
  mutationId: count,
  outcome: z.enum(OUTCOMES),
  kind: z.string().optional(),
  id: z.string().optional(),
  rev: count.optional(),
  feed: z.string().optional(),
  seq: count.optional(),
  conflicts: z.array(z.string()).optional().describe('Conflict records that keep the other value'),
  setAside: z.string().optional().describe('Names the copy that was set aside; `release` cites it'),
  code: z.string().optional().describe('A code of the registry'),
  detail: z.string().optional(),
  pointer: z.string().optional().describe('JSON Pointer to the field in the mutation'),
});
export type Outcome = z.output<typeof outcome>;
