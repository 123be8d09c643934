import { z } from 'zod';

/**
 * A question of the trade that needs no stored record: numbers in, an answer with its reasons out. REST, GraphQL and a
 * phone ask the same definition, so that the answer at the well without a signal is the answer of the server.
 *
 * Doors mount every definition generically, so both objects keep to what each door can express: strings, booleans,
 * whole numbers, enums, arrays and strict objects; an input field may be optional, an output field may be null.
 * Measured values are decimal strings with the unit in the name of the field.
 */
export interface Question<Input extends z.ZodObject = z.ZodObject, Output extends z.ZodObject = z.ZodObject> {
  /** kebab-case: the last part of its REST path and, in camel case, its GraphQL field. */
  readonly name: string;
  readonly title: string;
  /** What is asked and answered, for whom, and where the limits are. */
  readonly description: string;
  /** Publications, each with edition; or "common practice, no source"; or with "from memory". */
  readonly sources: readonly string[];
  readonly input: Input;
  readonly output: Output;
  /** Pure: the same input gives the same answer. Takes what `input` has parsed; never throws for a content it can read. */
  answer(input: z.output<Input>): z.output<Output>;
}

export function defineQuestion<Input extends z.ZodObject, Output extends z.ZodObject>(
  question: Question<Input, Output>,
): Question<Input, Output> {
  return question;
}

/**
 * What every answer says beside its figures. A question that cannot be answered gives no figure: `refused` says what
 * was given and what is needed, and the figures are null.
 */
export const answerFields = {
  refused: z.string().nullable().describe('Why there is no answer and what is needed for one; null where there is one'),
  reasons: z.array(z.string()).describe('How the answer came about, in sentences'),
  cautions: z
    .array(z.string())
    .describe('What to mind; the site safety plan, local codes and licensed practice decide'),
  sources: z.array(z.string()).describe('Publications that the answer rests on, or "common practice, no source"'),
};
