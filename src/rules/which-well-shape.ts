import { z } from 'zod';
import { decimal, id } from '../protocol/primitives.ts';

export const whichWellInput = z.strictObject({
  depthToBottomFt: decimal.describe('As sounded, below the measuring point'),
});

export const whichWellOutput = z.strictObject({
  fits: z.enum(['this', 'other', 'none', 'unknown']),
  other: id.optional().describe('The well of the nest that fits instead'),
  misses: z.enum(['deeper', 'shallower']).optional(),
  sentence: z.string(),
});
