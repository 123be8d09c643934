import { coolerCustody } from '../../reads/custody/cooler-custody.ts';
import { custodyInput, custodyOutput } from '../../rules/custody/custody-told.ts';
import { STATEMENT_COST } from './connections.ts';
import { addStoredQuestion } from './stored-questions.ts';
import type { GraphTypes } from './types.ts';

/** All of the samples of its event, and the histories of what is in it. */
const CUSTODY_COST = 1_000 + 8 * STATEMENT_COST;

/** The custody of a cooler, as a field of it. */
export function addCustodyQuestions(types: GraphTypes): void {
  addStoredQuestion(types, {
    of: 'cooler',
    name: 'custody',
    path: 'cooler-custody',
    description: 'Who has it, who had it, and what was received of it: the same answer as GET /v1/coolers/ID/custody.',
    asked: custodyInput,
    told: custodyOutput,
    cost: CUSTODY_COST,
    answer: ({ id }, _asked, g) =>
      g.reads.ask((tx, feeds) => coolerCustody(tx, feeds, id, { now: g.ctx.now().toISOString() })),
  });
}
