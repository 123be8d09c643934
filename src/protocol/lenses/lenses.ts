import type { Lens } from './lens.ts';
import { neitherByReason } from './neither-by-reason.ts';

/** One lens for each step of the version after which the same words would mean something else, one file a step. */
export const LENSES: readonly Lens[] = [neitherByReason];
