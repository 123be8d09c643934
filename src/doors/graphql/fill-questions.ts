import { visitFillOrder, visitShortWater } from '../../reads/visit-fills.ts';
import { fillOrderInput, fillOrderOutput } from '../../rules/samples/fill-order/fill-order-told.ts';
import { shortWaterInput, shortWaterOutput } from '../../rules/samples/short-water/short-water-told.ts';
import { STATEMENT_COST } from './connections.ts';
import { addStoredQuestion } from './stored-questions.ts';
import type { GraphTypes } from './types.ts';

/** The visit, and all of its containers in one statement. */
const FILLS_COST = 4 * STATEMENT_COST;

/** What is filled at a visit, as fields of it. */
export function addFillQuestions(types: GraphTypes): void {
  addStoredQuestion(types, {
    of: 'visit',
    name: 'fillOrder',
    path: 'visit-fill-order',
    description: 'Its containers in the order to fill: the same answer as GET /v1/visits/ID/fill-order.',
    asked: fillOrderInput,
    told: fillOrderOutput,
    cost: FILLS_COST,
    answer: ({ id }, asked, g) => g.reads.ask((tx, feeds) => visitFillOrder(tx, feeds, id, asked)),
  });
  addStoredQuestion(types, {
    of: 'visit',
    name: 'shortWater',
    path: 'visit-short-water',
    description: 'What is filled of the water that is left: the same answer as GET /v1/visits/ID/short-water.',
    asked: shortWaterInput,
    told: shortWaterOutput,
    cost: FILLS_COST,
    answer: ({ id }, asked, g) => g.reads.ask((tx, feeds) => visitShortWater(tx, feeds, id, asked)),
  });
}
