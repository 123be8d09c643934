import { z } from 'zod';
import { OUT_OF_SIGHT } from '../rules/equipment-told/sight.ts';
import { count } from '../rules/equipment-told/told-fields.ts';
import { unitSpanOutput } from '../rules/equipment-told/unit-state-told.ts';
import { timelineEntryOutput } from '../rules/equipment-told/unit-timeline-told.ts';

const next = z.string().nullable().describe('Give it back as `cursor` for the next part; null at the end');

export const unitSpansPage = z.strictObject({ items: z.array(unitSpanOutput), next });

export const unitTimelinePage = z.strictObject({
  items: z.array(timelineEntryOutput),
  next,
  outOfSight: count.describe(OUT_OF_SIGHT),
});
