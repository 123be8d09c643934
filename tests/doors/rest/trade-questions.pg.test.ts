import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { QUESTIONS } from '../../../src/rules/questions/question-list.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';

let t: TestApp;
let headers: Record<string, string>;

beforeAll(async () => {
  t = await testApp();
  headers = { authorization: `Bearer ${await t.token('crew')}` };
});
afterAll(() => t.close());

function examplesOf(question: (typeof QUESTIONS)[number]): readonly unknown[] {
  return (question.input.meta()?.examples as readonly unknown[] | undefined) ?? [];
}

describe('the questions of the trade', () => {
  it('lists them all, with their sources', async () => {
    const { items } = (await t.app.inject({ url: '/v1/questions', headers })).json();
    expect(items.map((item: { name: string }) => item.name)).toEqual(QUESTIONS.map((question) => question.name));
  });

  it.each(QUESTIONS.map((question) => [question.name, question] as const))(
    'answers %s as a phone does',
    async (name, question) => {
      const examples = examplesOf(question);
      expect(examples.length).toBeGreaterThan(0);
      for (const payload of examples) {
        const response = await t.app.inject({
          method: 'POST',
          url: `/v1/questions/${name}`,
          headers,
          payload: payload as object,
        });
        expect(response.statusCode, response.body).toBe(200);
        expect(response.json()).toEqual(JSON.parse(JSON.stringify(question.answer(question.input.parse(payload)))));
      }
    },
  );

  it('says what it cannot read', async () => {
    const payload = { nonsense: 1 };
    const response = await t.app.inject({ method: 'POST', url: '/v1/questions/well-volume', headers, payload });
    expect(response.json()).toMatchObject({ status: 422, code: 'unreadable_record' });
  });
});
