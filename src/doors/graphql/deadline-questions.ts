import { eventCompleteness } from '../../reads/event-completeness.ts';
import { deadlinesInput, deadlinesOutput, eventDeadlines } from '../../reads/event-deadlines.ts';
import { coolerPacking, eventMustLeave } from '../../reads/must-leave.ts';
import { completenessInput, completenessOutput } from '../../rules/samples/completeness/completeness-told.ts';
import { mustLeaveInput, mustLeaveOutput } from '../../rules/shipping/must-leave-told.ts';
import { packingInput, packingOutput } from '../../rules/shipping/packing-told.ts';
import { STATEMENT_COST } from './connections.ts';
import type { GraphContext } from './context.ts';
import { addStoredQuestion } from './stored-questions.ts';
import type { GraphTypes } from './types.ts';

/** All that is known of the samples of an event, read in one statement: thousands of records of a large one. */
const SAMPLES_COST = 3_000 + 2 * STATEMENT_COST;

const nowOf = ({ ctx }: GraphContext) => ctx.now().toISOString();

/** The clocks of containers, and what has to leave, as fields of events and coolers. */
export function addDeadlineQuestions(types: GraphTypes): void {
  addStoredQuestion(types, {
    of: 'event',
    name: 'deadlines',
    path: 'event-deadlines',
    description: 'The clocks of its containers, the tightest first: the same answer as GET /v1/events/ID/deadlines.',
    asked: deadlinesInput,
    told: deadlinesOutput,
    cost: SAMPLES_COST,
    answer: ({ id }, asked, g) =>
      g.reads.ask((tx, feeds) => eventDeadlines(tx, feeds, id, { ...asked, now: nowOf(g) })),
  });
  addStoredQuestion(types, {
    of: 'event',
    name: 'mustLeave',
    path: 'event-must-leave',
    description: 'What has to leave today: the same answer as GET /v1/events/ID/must-leave.',
    asked: mustLeaveInput,
    told: mustLeaveOutput,
    cost: SAMPLES_COST,
    answer: ({ id }, asked, g) =>
      g.reads.ask((tx, feeds) => eventMustLeave(tx, feeds, id, { ...asked, now: nowOf(g) })),
  });
  addStoredQuestion(types, {
    of: 'cooler',
    name: 'packing',
    path: 'cooler-packing',
    description: 'What is said while it is packed: the same answer as GET /v1/coolers/ID/packing.',
    asked: packingInput,
    told: packingOutput,
    cost: SAMPLES_COST,
    answer: ({ id }, asked, g) => g.reads.ask((tx, feeds) => coolerPacking(tx, feeds, id, { ...asked, now: nowOf(g) })),
  });
  addStoredQuestion(types, {
    of: 'event',
    name: 'completeness',
    path: 'event-completeness',
    description: 'What it was to bring, and what of it came: the same answer as GET /v1/events/ID/completeness.',
    asked: completenessInput,
    told: completenessOutput,
    cost: SAMPLES_COST,
    answer: ({ id }, asked, g) => g.reads.ask((tx, feeds) => eventCompleteness(tx, feeds, id, asked)),
  });
}
