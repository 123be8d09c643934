import type { GraphQLField, GraphQLObjectType } from 'graphql';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { graphSchema } from '../../../src/doors/graphql/schema.ts';
import { camel } from '../../../src/doors/graphql/type-names.ts';
import type { Question } from '../../../src/rules/questions/question.ts';
import { QUESTIONS } from '../../../src/rules/questions/question-list.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { type Answered, RestClient } from '../rest/rest-client.ts';
import { ask, type GraphAnswer } from './ask.ts';
import { asAnswered, asVariable, everything, withoutNulls } from './graph-values.ts';

const query = graphSchema().getType('Query') as GraphQLObjectType;
const each = QUESTIONS.map((question) => [question.name, question] as const);

let t: TestApp;
let token: string;
let rest: RestClient;

beforeAll(async () => {
  t = await testApp();
  token = await t.token('crew', t.firm.ids.phone);
  rest = new RestClient(t, token);
});
afterAll(() => t.close());

function fieldOf({ name }: Question): GraphQLField<unknown, unknown> {
  const field = query.getFields()[camel(name)];
  if (!field) throw new Error(`the question ${name} has no field`);
  return field;
}

function examplesOf(question: Question): readonly object[] {
  const given = question.input.meta()?.examples;
  if (!Array.isArray(given) || given.length === 0) throw new Error(`${question.name} has no example of its input`);
  return given as object[];
}

function onlyExample(question: Question): object {
  return examplesOf(question)[0] as object;
}

/** Asks through GraphQL for everything that the answer can tell. */
async function askGraph(question: Question, input: object): Promise<GraphAnswer<Record<string, unknown>>> {
  const field = fieldOf(question);
  const type = field.args[0]?.type;
  if (!type) throw new Error(`${field.name} takes no input`);
  const text = `query ($input: ${String(type)}) { ${field.name}(input: $input) ${everything(field.type)} }`;
  return ask<Record<string, unknown>>(t, token, text, { input: asVariable(input, type) });
}

function told(question: Question, { data }: GraphAnswer<Record<string, unknown>>): unknown {
  const field = fieldOf(question);
  return withoutNulls(asAnswered(data[field.name], field.type));
}

function askRest({ name }: Question, input: object): Promise<Answered> {
  return rest.post(`/questions/${name}`, input);
}

describe('each question of the trade', () => {
  it.each(each)('is answered alike by function, REST and GraphQL: %s', async (_name, question) => {
    for (const example of examplesOf(question)) {
      const here = JSON.parse(JSON.stringify(question.answer(question.input.parse(example))));
      const byRest = await askRest(question, example);
      expect([byRest.status, byRest.body]).toEqual([200, here]);
      const byGraph = await askGraph(question, example);
      expect(byGraph.errors).toEqual([]);
      expect(told(question, byGraph)).toEqual(withoutNulls(here));
    }
  });

  it.each(each)('is described alike: %s', (_name, question) => {
    const field = fieldOf(question);
    for (const part of [question.title, question.description, ...question.sources]) {
      expect(field.description).toContain(part);
    }
  });

  it.each(each)('refuses alike what it does not know: %s', async (_name, question) => {
    const input = { ...onlyExample(question), noSuchField: '1' };
    const byRest = await askRest(question, input);
    expect([byRest.status, byRest.body.code, byRest.body.pointer]).toEqual([422, 'unreadable_record', '/noSuchField']);
    const byGraph = await askGraph(question, input);
    expect([byGraph.status, byGraph.errors[0]?.extensions.code]).toEqual([400, 'unreadable_query']);
    expect(byGraph.errors[0]?.message).toContain('noSuchField');
  });

  it.each(each)('refuses alike what is missing: %s', async (_name, question) => {
    const needed = Object.entries(question.input.shape).filter(([, field]) => !field.safeParse(undefined).success);
    for (const [name] of needed) {
      const input = { ...onlyExample(question), [name]: undefined };
      const byRest = await askRest(question, input);
      expect([byRest.status, byRest.body.pointer]).toEqual([422, `/${name}`]);
      const byGraph = await askGraph(question, input);
      expect(byGraph.errors[0]?.message).toContain(`"${name}"`);
    }
  });
});

describe('a content that cannot be read', () => {
  /** Each text of each example in turn, spoilt: a number with its unit is what people write. */
  const spoilt = (question: Question) =>
    Object.entries(onlyExample(question)).flatMap(([name, value]) => {
      const isMeasured = typeof value === 'string' && /^-?\d+(\.\d+)?$/.test(value);
      const reads = question.input.shape[name]?.safeParse(`${value} ft`).success;
      return isMeasured && !reads ? [{ name, input: { ...onlyExample(question), [name]: `${value} ft` } }] : [];
    });

  it.each(each.filter(([, question]) => spoilt(question).length > 0))('is refused alike: %s', async (_n, question) => {
    for (const { name, input } of spoilt(question)) {
      const byRest = await askRest(question, input);
      expect([byRest.status, byRest.body.pointer]).toEqual([422, `/${name}`]);
      const byGraph = await askGraph(question, input);
      const [error] = byGraph.errors;
      const isChoice = error?.extensions.code === 'unreadable_query';
      if (isChoice) expect(error?.message).toContain(name);
      else {
        expect([error?.extensions.code, error?.extensions.pointer]).toEqual([byRest.body.code, `/input/${name}`]);
        expect(error?.message).toBe(byRest.body.detail.replace(`/${name}`, `/input/${name}`));
      }
    }
  });
});

describe('asking through GraphQL', () => {
  it('takes null for what is left out', async () => {
    const question = QUESTIONS.find(({ name }) => name === 'convert-unit');
    if (!question) throw new Error('there is no question convert-unit');
    const input = { ...onlyExample(question), isDifference: null };
    const { errors } = await askGraph(question, input);
    expect(errors).toEqual([]);
  });

  it('answers many at once, the refused ones beside the others', async () => {
    const one = (alias: string, amount: string) =>
      `${alias}: convertUnit(input: { amount: "${amount}", fromUnit: "m", toUnit: "[ft_i]" }) { converted }`;
    const { status, data, errors } = await ask(t, token, `{ ${one('a', '1.00')} ${one('b', 'deep')} }`);
    expect([status, data, errors.length]).toEqual([200, { a: { converted: '3.28' }, b: null }, 1]);
  });

  it('lists the questions', async () => {
    const { data } = await ask(t, token, '{ questions { name title description sources } }');
    expect(data).toEqual({
      questions: QUESTIONS.map(({ name, title, description, sources }) => ({ name, title, description, sources })),
    });
  });

  it('is open to every role and to nobody else', async () => {
    const text = '{ convertUnit(input: { amount: "1.50", fromUnit: "[ft_i]", toUnit: "m" }) { converted } }';
    for (const role of ['crew', 'coordinator', 'dashboard', 'admin'] as const) {
      const { data } = await ask(t, await t.token(role), text);
      expect(data).toEqual({ convertUnit: { converted: '0.457' } });
    }
    expect((await ask(t, 'nobody', text)).status).toBe(401);
  });

  it('costs by the length of what is given: long lists of readings can be asked about a few times only', async () => {
    const levels = Array.from({ length: 100 }, (_, index) => {
      return { well: `MW-${index}`, at: '2026-05-04T08:05:00-05:00', eastFt: `${index}`, northFt: '0', headFt: '100' };
    });
    const many = (count: number) => {
      const fields = Array.from(
        { length: count },
        (_, index) => `q${index}: horizontalGradient(input: $input) { refused }`,
      );
      return `query ($input: HorizontalGradientInput!) { ${fields.join(' ')} }`;
    };
    expect((await ask(t, token, many(10), { input: { levels } })).status).toBe(200);
    const { errors } = await ask(t, token, many(40), { input: { levels } });
    expect(errors[0]?.extensions).toMatchObject({ code: 'query_too_costly', limit: 'cost' });
    const short = Array.from({ length: 45 }, (_, index) => `q${index}: orpToEh(input: $input) { refused }`).join(' ');
    const variables = {
      input: { orpMv: '150', temperatureC: '12.0', referenceElectrode: 'SILVER_CHLORIDE_3_5_MOLAR' },
    };
    expect((await ask(t, token, `query ($input: OrpToEhInput!) { ${short} }`, variables)).errors).toEqual([]);
  });
});

describe('a measured value that is given as a number', () => {
  it('is refused, saying that measured values are decimal strings', async () => {
    const literal = await ask(t, token, '{ orpToEh(input: { orpMv: 150, temperatureC: "12.0" }) { refused } }');
    const variable = await ask(t, token, 'query ($mv: String!) { orpToEh(input: { orpMv: $mv }) { refused } }', {
      mv: 150,
    });
    for (const { status, errors } of [literal, variable]) {
      expect([status, errors[0]?.extensions.code]).toEqual([400, 'unreadable_query']);
      expect(errors.map((error) => error.message).join()).toContain('a measured value is a decimal string: "7.10"');
    }
  });
});
