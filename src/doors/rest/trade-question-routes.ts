import { z } from 'zod';
import type { Question } from '../../rules/questions/question.ts';
import { QUESTIONS } from '../../rules/questions/question-list.ts';
import { EVERY_ROLE } from '../authenticate.ts';
import type { Api } from './api.ts';
import { answer, BODY_CODES, problems } from './problem-docs.ts';

const config = { access: EVERY_ROLE };
const tags = ['question'];

const listed = z
  .strictObject({
    name: z.string().describe('Last part of its address'),
    title: z.string(),
    description: z.string(),
    sources: z.array(z.string()),
  })
  .meta({ id: 'Question' });

/** well-volume -> WellVolume */
function pascal(name: string): string {
  return name.replace(/(?:^|-)([a-z0-9])/g, (_, letter: string) => letter.toUpperCase());
}

function questionRoute(api: Api, question: Question): void {
  const { name, title, description, sources, input, output } = question;
  const schema = {
    operationId: `ask${pascal(name)}`,
    summary: title,
    description: `${description}\n\nSources: ${sources.join('; ')}.`,
    tags,
    body: input.meta({ ...input.meta(), id: `${pascal(name)}Question` }),
    response: {
      200: answer('The answer, or why there is none', output.meta({ id: `${pascal(name)}Answer` })),
      ...problems(...BODY_CODES),
    },
  };
  api.post(`/questions/${name}`, { schema, config }, async (request) => question.answer(request.body));
}

/** GET /questions, and POST /questions/NAME for each question of the trade that needs no stored record. */
export function tradeQuestionRoutes(api: Api): void {
  const items = QUESTIONS.map(({ name, title, description, sources }) => ({
    name,
    title,
    description,
    sources: [...sources],
  }));
  const schema = {
    operationId: 'listQuestions',
    summary: 'The questions of the trade that are answered from what is given alone',
    description: 'A phone answers them without a signal, by the same definitions.',
    tags,
    response: {
      200: answer('All of them', z.strictObject({ items: z.array(listed) })),
      ...problems(),
    },
  };
  api.get('/questions', { schema, config }, async () => ({ items }));
  for (const question of QUESTIONS) questionRoute(api, question);
}
