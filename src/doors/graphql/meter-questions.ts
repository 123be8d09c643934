import { z } from 'zod';
import { eventKit } from '../../reads/event-kit.ts';
import { checksOfOneMeter, mayMeterBeUsed, meterChecksOfVisit } from '../../reads/meter-checks.ts';
import { kitInput, kitOutput } from '../../rules/kit/kit-told.ts';
import { checksOfMeterInput, checksOfMeterOutput } from '../../rules/meter-told/checks-of-meter.ts';
import { visitMeterChecksOutput } from '../../rules/meter-told/meter-checks-of-visit.ts';
import { meterUsableInput, meterUsableOutput } from '../../rules/meter-told/meter-usable.ts';
import { STATEMENT_COST } from './connections.ts';
import type { GraphContext } from './context.ts';
import { addStoredQuestion } from './stored-questions.ts';
import type { GraphTypes } from './types.ts';

/** The record, its event, its checks (up to a thousand), and what lies around them. */
const CHECKS_COST = 1_000 + 6 * STATEMENT_COST;

const nowOf = ({ ctx }: GraphContext) => ctx.now().toISOString();

/** What the checks of meters and of kits say, as fields of units, events and visits. */
export function addMeterQuestions(types: GraphTypes): void {
  addStoredQuestion(types, {
    of: 'unit',
    name: 'mayBeUsed',
    path: 'meter-may-be-used',
    description: 'May this meter be used now: the same answer as GET /v1/units/ID/may-be-used.',
    asked: meterUsableInput,
    told: meterUsableOutput,
    cost: CHECKS_COST,
    answer: ({ id }, asked, g) =>
      g.reads.ask((tx, feeds) => mayMeterBeUsed(tx, feeds, id, { ...asked, at: asked.at ?? nowOf(g) })),
  });
  addStoredQuestion(types, {
    of: 'unit',
    name: 'checks',
    path: 'checks-of-meter',
    description: 'Its checks and the visits that they qualify: the same answer as GET /v1/units/ID/checks.',
    asked: checksOfMeterInput,
    told: checksOfMeterOutput,
    cost: CHECKS_COST,
    answer: ({ id }, asked, g) =>
      g.reads.ask((tx, feeds) => checksOfOneMeter(tx, feeds, id, { ...asked, until: asked.until ?? nowOf(g) })),
  });
  addStoredQuestion(types, {
    of: 'event',
    name: 'kit',
    path: 'event-kit',
    description: 'What a crew takes along for a day, and what is short: the same answer as GET /v1/events/ID/kit.',
    asked: kitInput,
    told: kitOutput,
    cost: CHECKS_COST,
    answer: ({ id }, asked, g) =>
      g.reads.ask((tx, feeds) => eventKit(tx, feeds, id, { ...asked, device: g.actor.device, now: nowOf(g) })),
  });
  addStoredQuestion(types, {
    of: 'visit',
    name: 'meterChecks',
    path: 'visit-meter-checks',
    description: 'Which checks stand around its readings: the same answer as GET /v1/visits/ID/meter-checks.',
    asked: z.strictObject({}),
    told: visitMeterChecksOutput,
    cost: CHECKS_COST,
    answer: ({ id }, _asked, g) => g.reads.ask((tx, feeds) => meterChecksOfVisit(tx, feeds, id)),
  });
}
