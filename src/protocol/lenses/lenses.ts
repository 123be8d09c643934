import type { Lens } from './lens.ts';

/**
 * One lens for each step of the version that was more than an addition, one file a step. Version 2 only added to
 * version 1, which `tests/protocol/wire/wire.test.ts` proves; so there is none yet.
 */
export const LENSES: readonly Lens[] = [];
