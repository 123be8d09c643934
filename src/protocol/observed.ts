import { z } from 'zod';
import { id, instant } from './primitives.ts';

/** Where and by whom an observation was made: one person reads, another may type, and paper may be typed at night. */
export const observed = z.strictObject({
  at: instant.describe('When it was seen at the well, as entered, with offset'),
  entered: instant.describe('When it was typed'),
  captured: z.enum(['at-the-well', 'same-day', 'from-paper']).describe('How it came into the device'),
  readBy: id.describe('The member who read the instrument'),
  writtenBy: id.describe('The member who typed it'),
});
