import { z } from 'zod';
import { text } from './primitives.ts';

export const eventPlan = z.strictObject({
  criteria: text(64).describe('Id of a criteria set of the catalog'),
});
