import type { Question } from './question.ts';

/** Every question that the doors mount, in the order of their names. */
export const QUESTIONS: readonly Question[] = [];

const BY_NAME: ReadonlyMap<string, Question> = new Map(QUESTIONS.map((question) => [question.name, question]));

export function questionNamed(name: string): Question | undefined {
  return BY_NAME.get(name);
}
