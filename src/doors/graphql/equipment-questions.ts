import { z } from 'zod';
import { blankSamples } from '../../reads/blank-samples.ts';
import { eventDayPlan } from '../../reads/day-plan.ts';
import { holderOutput } from '../../reads/equipment-status.ts';
import { owedEquipment } from '../../reads/owed-equipment.ts';
import { sampleTrail } from '../../reads/sample-trail.ts';
import { toldPageInput } from '../../reads/told-page.ts';
import { unitEntries, unitSpans, unitTrail } from '../../reads/unit-history.ts';
import { unitByRecords } from '../../reads/unit-now.ts';
import { unitSpansPage, unitTimelinePage } from '../../reads/unit-pages.ts';
import { blankSamplesInput, blankSamplesOutput } from '../../rules/equipment-told/blank-told.ts';
import { dayPlanInput, dayPlanOutput } from '../../rules/equipment-told/day-plan-told.ts';
import { owedInput, owedOutput } from '../../rules/equipment-told/owed-told.ts';
import { sampleTrailOutput } from '../../rules/equipment-told/sample-trail-told.ts';
import { unitStateOutput } from '../../rules/equipment-told/unit-state-told.ts';
import { unitTrailInput, unitTrailOutput } from '../../rules/equipment-told/unit-trail-told.ts';
import { STATEMENT_COST } from './connections.ts';
import { answerType } from './questions.ts';
import { addStoredQuestion } from './stored-questions.ts';
import type { GraphTypes } from './types.ts';

const nothingAsked = z.strictObject({});

/** The history of a unit over years took 100 ms at most, and is read once for all that is asked of it. */
const UNIT_COST = 3_000;
/** Every unit that was at the visit, and those that share soft parts with them. */
const AROUND_COST = 2 * UNIT_COST;

/** `state` of each unit of a list is asked in one statement; of a unit of which nothing was derived its history tells. */
function addState(types: GraphTypes): void {
  const answer = answerType(types, 'unit-state-now', unitStateOutput);
  types.builder.objectField(types.ofKind('unit'), 'state', (t) =>
    t.field({
      type: answer,
      nullable: true,
      description: 'Where it stands, and the record that put it there: the same answer as GET /v1/units/ID/state.',
      complexity: { field: STATEMENT_COST, multiplier: 1 },
      resolve: async ({ id }, _args, g) =>
        (await g.reads.unitNow(id)) ?? unitByRecords(await g.reads.equipmentOf(id), id),
    }),
  );
}

/** `holders` of each unit of a list is asked in one statement. */
function addHolders(types: GraphTypes): void {
  const holder = answerType(types, 'unit-holder', holderOutput, '');
  types.builder.objectField(types.ofKind('unit'), 'holders', (t) =>
    t.field({
      type: [holder],
      description: 'Who has it: signed out and not brought back; two crews where both say so',
      complexity: { field: STATEMENT_COST, multiplier: 1 },
      resolve: ({ id }, _args, g) => g.reads.holdersOf(id),
    }),
  );
}

/** The history of each unit that was at work on the day, read together. */
const OWED_COST = AROUND_COST;

function addOwed(types: GraphTypes): void {
  addStoredQuestion(types, {
    of: 'event',
    name: 'owedEquipment',
    path: 'owed-equipment',
    description: 'What its equipment still owes tonight: the same answer as GET /v1/events/ID/owed-equipment.',
    asked: owedInput,
    told: owedOutput,
    cost: OWED_COST,
    answer: ({ id }, asked, g) =>
      g.reads.ask((tx, feeds) => owedEquipment(tx, feeds, id, { ...asked, now: g.ctx.now().toISOString() })),
  });
}

/** The event, its site, and each of its lists in one statement; the last results of up to ten visits of each well. */
const PLAN_COST = 500 + 12 * STATEMENT_COST;

function addDayPlan(types: GraphTypes): void {
  addStoredQuestion(types, {
    of: 'event',
    name: 'dayPlan',
    path: 'event-day-plan',
    description: 'The day of a crew, cleanest well first: the same answer as GET /v1/events/ID/day-plan.',
    asked: dayPlanInput,
    told: dayPlanOutput,
    cost: PLAN_COST,
    answer: ({ id }, asked, g) => {
      const given = { ...asked, device: g.actor.device, now: g.ctx.now().toISOString() };
      return g.reads.ask((tx, feeds) => eventDayPlan(tx, feeds, id, given));
    },
  });
}

function addUnitHistory(types: GraphTypes): void {
  const common = { of: 'unit', cost: UNIT_COST } as const;
  addStoredQuestion(types, {
    ...common,
    name: 'states',
    path: 'unit-states',
    description: 'Every state that it went through, the present one first: the same answer as GET /v1/units/ID/states.',
    asked: toldPageInput,
    told: unitSpansPage,
    answer: async ({ id }, asked, g) => unitSpans(await g.reads.equipmentOf(id), id, asked),
  });
  addStoredQuestion(types, {
    ...common,
    name: 'timeline',
    path: 'unit-timeline',
    description: 'What happened to it, the latest first: the same answer as GET /v1/units/ID/timeline.',
    asked: toldPageInput,
    told: unitTimelinePage,
    answer: async ({ id }, asked, g) => {
      const equipment = await g.reads.equipmentOf(id);
      return g.reads.ask(async (_tx, feeds) => unitEntries(equipment, feeds, id, asked));
    },
  });
  addStoredQuestion(types, {
    ...common,
    name: 'trail',
    path: 'unit-trail',
    description: 'Everything that it touched: the same answer as GET /v1/units/ID/trail.',
    asked: unitTrailInput,
    told: unitTrailOutput,
    answer: async ({ id }, asked, g) => {
      const equipment = await g.reads.equipmentOf(id);
      return g.reads.ask((tx, feeds) => unitTrail(tx, feeds, equipment, id, asked));
    },
  });
}

/** The trail from a unit, from a sample and from a blank, as fields of them. */
export function addEquipmentQuestions(types: GraphTypes): void {
  addState(types);
  addHolders(types);
  addOwed(types);
  addDayPlan(types);
  addUnitHistory(types);
  addStoredQuestion(types, {
    of: 'sample',
    name: 'trail',
    path: 'sample-trail',
    description: 'Back to the gear that it passed, and where it stands: the same answer as GET /v1/samples/ID/trail.',
    asked: nothingAsked,
    told: sampleTrailOutput,
    cost: AROUND_COST,
    answer: ({ id }, _asked, g) => g.reads.ask((tx, feeds) => sampleTrail(tx, feeds, id)),
  });
  addStoredQuestion(types, {
    of: 'blank',
    name: 'samplesBehind',
    path: 'blank-samples',
    description: 'If it failed, the samples taken with the same gear: the same answer as GET /v1/blanks/ID/samples.',
    asked: blankSamplesInput,
    told: blankSamplesOutput,
    cost: AROUND_COST,
    answer: ({ id }, asked, g) => g.reads.ask((tx, feeds) => blankSamples(tx, feeds, id, asked)),
  });
}
