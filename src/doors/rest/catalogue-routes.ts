import { z } from 'zod';
import { criteriaSet, criteriaSets, isVerified } from '../../catalog/criteria-sets.ts';
import { CODES, type Code } from '../../protocol/codes.ts';
import type { KindDefinition } from '../../protocol/kind.ts';
import { ADDRESSEES } from '../../protocol/kinds/flag.ts';
import { KINDS } from '../../protocol/kinds-by-name.ts';
import { LIMITS, QUERY_LIMITS } from '../../protocol/limits.ts';
import { Problem } from '../../protocol/problem.ts';
import { EVERY_RULE, flagRuleOutput, RULE_SUBJECTS } from '../../rules/flag-catalogue.ts';
import { EVERY_ROLE } from '../authenticate.ts';
import type { Api } from './api.ts';
import { answer, openProblems, problems } from './problem-docs.ts';

const config = { access: EVERY_ROLE };
const open = { access: 'open' as const };
const tags = ['catalogue'];
const list = <Schema extends z.ZodType>(schema: Schema) =>
  answer('All of them', z.strictObject({ items: z.array(schema) }));

const anyObject = z.record(z.string(), z.unknown());

const kindShape = z
  .strictObject({
    name: z.string(),
    plural: z.string().describe('Last part of its address'),
    family: z.enum(['fact', 'observation', 'claim', 'derived']),
    description: z.string(),
    home: anyObject.describe('The feed that its records live in, or the field that names the record they live under'),
    references: anyObject.describe('Fields that name other records, with the kind'),
    writers: z.array(z.string()),
    fields: anyObject.describe('JSON Schema of its fields'),
  })
  .meta({ id: 'Kind' });

function kindBody(kind: KindDefinition): z.output<typeof kindShape> {
  const { name, plural, family, description } = kind;
  const fields = z.toJSONSchema(kind.fields, { io: 'input', unrepresentable: 'any' }) as Record<string, unknown>;
  const copies = { home: { ...kind.home }, references: { ...kind.references }, writers: [...kind.writers] };
  return { name, plural, family, description, ...copies, fields };
}

function kindRoutes(api: Api): void {
  const items = KINDS.map(kindBody);
  const schema = {
    operationId: 'listKinds',
    summary: 'The kinds of records, with their fields and who writes them',
    tags,
    response: { 200: list(kindShape), ...problems() },
  };
  api.get('/kinds', { schema, config }, async () => ({ items }));
}

function limitRoute(api: Api): void {
  const limits = z.record(z.string(), z.int()).meta({ id: 'Limits' });
  const schema = {
    operationId: 'getLimits',
    summary: 'Every limit, by the name that a refusal cites',
    tags,
    response: { 200: answer('Sizes in bytes, the rest in pieces', limits), ...openProblems() },
  };
  const ofQueries = Object.entries(QUERY_LIMITS).map(([name, limit]) => [`query.${name}`, limit]);
  const table = { ...LIMITS, ...Object.fromEntries(ofQueries) };
  api.get('/limits', { schema, config: open }, async () => table);
}

const codeShape = z
  .strictObject({
    code: z.string(),
    status: z.int(),
    title: z.string(),
    cause: z.string(),
    remedy: z.string(),
  })
  .meta({ id: 'Code' });

function problemRoutes(api: Api): void {
  const codes = Object.entries(CODES).map(([code, entry]) => ({ code, ...entry }));
  const all = {
    operationId: 'listProblems',
    summary: 'Every code that a refusal or an outcome may carry',
    tags,
    response: { 200: list(codeShape), ...openProblems() },
  };
  api.get('/problems', { schema: all, config: open }, async () => ({ items: codes }));
  const one = {
    operationId: 'getProblem',
    summary: 'What a code means, what brings it about, and what to do',
    tags,
    params: z.strictObject({ code: z.string() }),
    response: { 200: answer('The entry', codeShape), ...openProblems('not_found') },
  };
  api.get('/problems/:code', { schema: one, config: open }, async (request) => {
    const { code } = request.params;
    if (!Object.hasOwn(CODES, code))
      throw new Problem('not_found', `${JSON.stringify(code)} is no code; see /v1/problems`);
    return { code, ...CODES[code as Code] };
  });
}

function criteriaRoutes(api: Api): void {
  // the catalog is data of its own form; its numbers each say whether they were read in the document
  const shape = z.looseObject({ id: z.string(), verified: z.boolean() }).meta({ id: 'CriteriaSet' });
  const bodies = criteriaSets.map((set) => ({ ...set, verified: isVerified(set) }));
  const all = {
    operationId: 'listCriteriaSets',
    summary: 'The published criteria of stabilization, edition by edition, with their sources',
    tags,
    response: { 200: list(shape), ...problems() },
  };
  api.get('/criteria-sets', { schema: all, config }, async () => ({ items: bodies }));
  const one = {
    operationId: 'getCriteriaSet',
    summary: 'One edition of one document',
    tags,
    params: z.strictObject({ id: z.string().max(64) }),
    response: { 200: answer('The set', shape), ...problems('not_found') },
  };
  api.get('/criteria-sets/:id', { schema: one, config }, async (request) => {
    const set = criteriaSet(request.params.id);
    if (!set) throw new Problem('not_found', `${JSON.stringify(request.params.id)} is no criteria set`);
    return { ...set, verified: isVerified(set) };
  });
}

const ruleQuery = z.strictObject({
  about: z.enum(RULE_SUBJECTS).optional(),
  addressee: z.enum(ADDRESSEES).optional(),
});

function flagRuleRoute(api: Api): void {
  const schema = {
    operationId: 'listFlagRules',
    summary: 'The rules by which something is asked, with their sources and how many cases a test replays',
    description: 'Of visits, of equipment, of the kit of a morning and of the clocks of devices.',
    tags,
    querystring: ruleQuery,
    response: { 200: list(flagRuleOutput.meta({ id: 'FlagRule' })), ...problems() },
  };
  api.get('/flag-rules', { schema, config }, async ({ query: { about, addressee } }) => ({
    items: EVERY_RULE.filter(
      (rule) => (about ?? rule.about) === rule.about && (addressee ?? rule.addressee) === rule.addressee,
    ),
  }));
}

/** What the server knows beside the records: kinds, limits, codes, criteria sets and rules. */
export function catalogueRoutes(api: Api): void {
  kindRoutes(api);
  limitRoute(api);
  problemRoutes(api);
  criteriaRoutes(api);
  flagRuleRoute(api);
}
