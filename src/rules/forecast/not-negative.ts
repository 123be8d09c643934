import { decimal } from '../../protocol/primitives.ts';

/** How far above a depth: below it there is nothing to warn of. */
export const notNegative = decimal.refine((value) => !value.startsWith('-'), { error: 'must not be below zero' });
