import type { InputRef } from '@pothos/core';
import type { z } from 'zod';
import { purgeForecast } from '../../reads/purge-forecast.ts';
import { whichWellStands } from '../../reads/which-well.ts';
import { purgeForecastInput, purgeForecastOutput } from '../../rules/forecast/purge-forecast-shape.ts';
import { historyHere, historyHereOutput, historyInput } from '../../rules/well-rounds/history-here.ts';
import { lastRoundHere, lastRoundHereOutput, lastRoundInput } from '../../rules/well-rounds/last-round-here.ts';
import { unlikeHere, unlikeHereOutput, unlikeInput } from '../../rules/well-rounds/unlike-here.ts';
import { MOST_VISITS } from '../../rules/well-rounds/well-records.ts';
import { whichWellInput, whichWellOutput } from '../../rules/which-well-shape.ts';
import type { RecordRow } from '../../store/read/record-states.ts';
import { STATEMENT_COST } from './connections.ts';
import type { GraphContext } from './context.ts';
import { answerType, questionCost, readAsked } from './questions.ts';
import { fieldsOf } from './shapes.ts';
import { pascal } from './type-names.ts';
import type { GraphTypes } from './types.ts';
import { describe } from './value-types.ts';

/** A question that is answered from what is stored of one record. */
export interface StoredQuestion<Asked extends z.ZodType, Told extends z.ZodType> {
  /** The kind of that record. */
  readonly of: string;
  /** Its field. */
  readonly name: string;
  /** What its types are called after. */
  readonly path: string;
  readonly description: string;
  readonly asked: Asked;
  readonly told: Told;
  /** What reading costs, beside answering. */
  readonly cost: number;
  readonly answer: (row: RecordRow, asked: z.output<Asked>, g: GraphContext) => Promise<z.output<Told>>;
}

/** The field of a question. The arguments are the same as those of the REST address; as there, what is asked is read by the definition. */
export function addStoredQuestion<Asked extends z.ZodType, Told extends z.ZodType>(
  types: GraphTypes,
  { of, name, path, description, asked, told, cost, answer }: StoredQuestion<Asked, Told>,
): void {
  const type = answerType(types, path, told);
  types.builder.objectField(types.ofKind(of), name, (t) =>
    t.field({
      type,
      nullable: true,
      description,
      args: Object.fromEntries(
        fieldsOf(asked, 'input').map((field) => {
          const input = types.values.input(field, pascal(path)) as InputRef<unknown>;
          return [field.name, t.arg({ type: input, required: field.required, ...describe(field) })];
        }),
      ),
      complexity: (input) => ({ field: questionCost({ input }).field + cost, multiplier: 1 }),
      resolve: (row, args, g) => answer(row, readAsked(asked, args, ''), g),
    }),
  );
}

/** Up to so many summaries of a well are looked through; what several ask of one well is read once. */
const ROUNDS_COST = MOST_VISITS + 2 * STATEMENT_COST;
/** The well, the ids of its nest, its nest. */
const NEST_COST = 3 * STATEMENT_COST;
/** The purge, its visit, what is around it; and then how the readings may go on is tried out many times. */
const FORECAST_COST = 1_000 + 3 * STATEMENT_COST;

const nowOf = ({ ctx }: GraphContext) => ctx.now().toISOString();

function addRounds(types: GraphTypes): void {
  const common = { of: 'well', cost: ROUNDS_COST } as const;
  addStoredQuestion(types, {
    ...common,
    name: 'lastRound',
    path: 'well-last-round',
    description: 'What was done here last round: the same answer as GET /v1/wells/ID/last-round.',
    asked: lastRoundInput,
    told: lastRoundHereOutput,
    answer: async ({ id }, asked, g) => lastRoundHere(await g.reads.roundsOf(id), { ...asked, at: nowOf(g) }),
  });
  addStoredQuestion(types, {
    ...common,
    name: 'unlike',
    path: 'well-unlike',
    description: 'Whether what was just measured is unlike this well: the same answer as GET /v1/wells/ID/unlike.',
    asked: unlikeInput,
    told: unlikeHereOutput,
    answer: async ({ id }, asked, g) => unlikeHere(await g.reads.roundsOf(id), { ...asked, at: nowOf(g) }),
  });
  addStoredQuestion(types, {
    ...common,
    name: 'rounds',
    path: 'well-rounds',
    description:
      'What the rounds gave of one quantity, and whether it rises or falls: the same answer as GET /v1/wells/ID/rounds.',
    asked: historyInput,
    told: historyHereOutput,
    answer: async ({ id }, asked, g) => historyHere(await g.reads.roundsOf(id), { ...asked, at: nowOf(g) }),
  });
}

/** What REST answers from stored records of a well or a purge, as fields of them. */
export function addStoredQuestions(types: GraphTypes): void {
  addRounds(types);
  addStoredQuestion(types, {
    of: 'well',
    name: 'whichWell',
    path: 'which-well',
    description: 'Which well of the nest was sounded: the same answer as POST /v1/questions/which-well.',
    asked: whichWellInput,
    told: whichWellOutput,
    cost: NEST_COST,
    answer: ({ id }, { depthToBottomFt }, g) =>
      g.reads.ask((tx, feeds) => whichWellStands(tx, feeds, { well: id, depthToBottomFt })),
  });
  addStoredQuestion(types, {
    of: 'purge',
    name: 'forecast',
    path: 'purge-forecast',
    description: 'How it will go on, if it goes on as it did: the same answer as GET /v1/purges/ID/forecast.',
    asked: purgeForecastInput,
    told: purgeForecastOutput,
    cost: FORECAST_COST,
    answer: ({ id }, asked, g) => g.reads.ask((tx, feeds) => purgeForecast(tx, feeds, id, asked)),
  });
}
