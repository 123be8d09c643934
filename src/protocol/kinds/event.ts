import { z } from 'zod';
import { eventPlan } from '../event-plan.ts';
import { defineKind, OFFICE } from '../kind.ts';
import { date, id, text } from '../primitives.ts';

export const event = defineKind({
  name: 'event',
  plural: 'events',
  family: 'fact',
  description: 'A sampling round at one site, with the plan that fixes criteria, editions and options.',
  home: { in: 'own', prefix: 'event' },
  references: { site: 'site' },
  writers: OFFICE,
  fields: {
    site: id,
    name: text(),
    starts: date,
    ends: date,
    standing: z.enum(['planned', 'open', 'closed']),
    plan: eventPlan,
  },
});
