import type { InputRef, OutputRef } from '@pothos/core';
import type { z } from 'zod';
import { Problem } from '../../protocol/problem.ts';
import { firstFault } from '../../protocol/read-mutation.ts';
import type { Question } from '../../rules/questions/question.ts';
import { QUESTIONS } from '../../rules/questions/question-list.ts';
import { saidFields } from './input-values.ts';
import { fieldsOf, type ShapeField } from './shapes.ts';
import { camel, pascal } from './type-names.ts';
import type { GraphTypes } from './types.ts';

const QUESTION_COST = 50;
const CHARACTERS_A_COST = 10;

/**
 * What answering costs, whatever is asked for of the answer: by the length of what is given, as the longest lists of
 * readings take the longest. A body full of one question, 16 KiB, took 20 ms at most, and may be asked 18 times.
 */
export function questionCost({ input }: { readonly input?: unknown }): { field: number; multiplier: number } {
  const length = (JSON.stringify(input) ?? '').length;
  return { field: QUESTION_COST + Math.ceil(length / CHARACTERS_A_COST), multiplier: 1 };
}

/** An object that stands by itself: its type is called after the path alone. */
function whole(fields: readonly ShapeField[]): ShapeField {
  return { name: '', shape: { type: 'object', fields }, required: true, description: undefined };
}

/** The types of what is asked and answered under a name: WellVolumeInput and WellVolumeAnswer. */
export function questionTypes({ values }: Pick<GraphTypes, 'values'>, name: string, asked: z.ZodType, told: z.ZodType) {
  const path = pascal(name);
  return {
    input: values.input(whole(fieldsOf(asked, 'input')), path) as InputRef<unknown>,
    answer: answerType({ values }, name, told),
  };
}

/** The type of what is answered under a name: WellVolumeAnswer. */
export function answerType({ values }: Pick<GraphTypes, 'values'>, name: string, told: z.ZodType, after = 'Answer') {
  return values.output(whole(fieldsOf(told)), `${pascal(name)}${after}`) as OutputRef<unknown>;
}

/**
 * What was asked, as the definition reads it. An argument that is null is the same as one that was left out.
 *
 * @param under where it stands in the arguments
 * @throws Problem `unreadable_record` as through REST, naming the field
 */
export function readAsked<Schema extends z.ZodType>(
  schema: Schema,
  input: unknown,
  under = '/input',
): z.output<Schema> {
  const given = saidFields(input, fieldsOf(schema, 'input'));
  const parsed = schema.safeParse(given);
  if (parsed.success) return parsed.data;
  const { code, detail, pointer } = firstFault(parsed.error, given, under);
  throw new Problem(code, detail, pointer === undefined ? {} : { pointer });
}

/** What a question asks and answers, and on what it rests. */
function about({ title, description, sources }: Question): string {
  return `${title} ${description}\n\nSources: ${sources.join('; ')}.`;
}

function addQuestion(types: GraphTypes, question: Question): void {
  const { input, answer } = questionTypes(types, question.name, question.input, question.output);
  types.builder.queryField(camel(question.name), (t) =>
    t.field({
      type: answer,
      nullable: true,
      description: about(question),
      args: { input: t.arg({ type: input, required: true }) },
      complexity: questionCost,
      resolve: (_root, args) => question.answer(readAsked(question.input, args.input)),
    }),
  );
}

function addList({ builder }: GraphTypes): void {
  const listed = builder.objectRef<Question>('Question').implement({
    description: 'A question of the trade that is answered from what is given alone.',
    fields: (t) => ({
      name: t.exposeString('name', { description: 'Its field here is the same in camel case' }),
      title: t.exposeString('title'),
      description: t.exposeString('description'),
      sources: t.stringList({ resolve: ({ sources }) => [...sources] }),
    }),
  });
  builder.queryField('questions', (t) =>
    t.field({
      type: [listed],
      description: 'Those of GET /v1/questions; a phone answers them without a signal, by the same definitions',
      complexity: { field: 1, multiplier: QUESTIONS.length },
      resolve: () => [...QUESTIONS],
    }),
  );
}

/** Every question of the trade, as a field of its name. */
export function addQuestions(types: GraphTypes): void {
  addList(types);
  for (const question of QUESTIONS) addQuestion(types, question);
}
