import type { GraphQLArgument, GraphQLField, GraphQLInputType } from 'graphql';
import { EVERY_ROLE } from '../../src/doors/authenticate.ts';
import { KINDS } from '../../src/protocol/kinds-by-name.ts';
import { graphql } from '../doors/graphql/graphql-of-mercurius.ts';
import { operationsOf } from './api-document.ts';
import { type Aim, type Attack, idPlaces, replaced, TAKEN_BY_GRAPHQL, wholeBody } from './attacks.ts';
import { mutationFields, queryFields, selections } from './graph-fields.ts';
import type { Asked } from './speaker.ts';

type Field = GraphQLField<unknown, unknown>;
type Variables = Readonly<Record<string, unknown>>;

export function asked(query: string, variables: Variables): Asked {
  return { method: 'POST', url: '/graphql', payload: { query, variables } };
}

/** The text that asks one field, with every argument as a variable. */
function question(
  kind: 'query' | 'mutation',
  { name, args }: Field,
  given: readonly string[],
  selection: string,
): string {
  const used = args.filter((arg) => given.includes(arg.name));
  if (used.length === 0) return `${kind} { ${name} ${selection} }`;
  const declared = used.map((arg) => `$${arg.name}: ${String(arg.type)}`).join(', ');
  return `${kind} (${declared}) { ${name}(${used.map((arg) => `${arg.name}: $${arg.name}`).join(', ')}) ${selection} }`;
}

/** nodes -> node, wellClaim -> well-claim; what an id of the field is the id of. */
export function kindOf(name: string): string {
  const kebab = name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
  return (
    KINDS.find(({ name: known, plural }) => known === kebab || plural === kebab)?.name ??
    (kebab === 'set-aside' ? kebab : 'visit')
  );
}

function isId(type: GraphQLInputType): boolean {
  return graphql.getNamedType(type).name === 'ID';
}

/** The ids that an argument of a query may hold: its own, or those of the fields of its filter. */
function idsIn(arg: GraphQLArgument): string[][] {
  if (isId(arg.type)) return [[]];
  const named = graphql.getNamedType(arg.type);
  if (!graphql.isInputObjectType(named)) return [];
  return Object.values(named.getFields())
    .filter(({ type }) => isId(type))
    .map(({ name }) => [name]);
}

function queryAttacks(field: Field, { theirs }: Aim): Attack[] {
  return field.args.flatMap((arg) =>
    idsIn(arg).flatMap((path) => {
      const foreign = path[0] === undefined ? theirs.of(kindOf(field.name)) : theirs.forField(path[0]);
      const list = graphql.isListType(graphql.getNullableType(arg.type));
      const value = (id: string) => (path[0] === undefined ? (list ? [id] : id) : { [path[0]]: id });
      // all that a record leads to, for one that is asked for by its id; what a list leads to is asked there
      const all = selections(field.type);
      return (path[0] === undefined ? all : all.slice(0, 1)).map(
        (selection, at): Attack => ({
          name: `query ${field.name} ${at}`,
          roles: EVERY_ROLE,
          place: `argument ${[arg.name, ...path].join('/')}`,
          foreign,
          with: (id) => asked(question('query', field, [arg.name], selection), { [arg.name]: value(id) }),
        }),
      );
    }),
  );
}

/** A value as REST has it, in the words of GraphQL. */
function inGraphQL(value: unknown, type: GraphQLInputType): unknown {
  const bare = graphql.getNullableType(type);
  if (graphql.isListType(bare)) return Array.isArray(value) ? value.map((one) => inGraphQL(one, bare.ofType)) : [];
  if (graphql.isEnumType(bare)) return bare.getValues().find((one) => one.value === value)?.name;
  if (!graphql.isInputObjectType(bare)) return value;
  const entries = Object.values(bare.getFields()).flatMap(({ name, type: inner }) => {
    const one = (value as Variables)[name];
    return one === undefined ? [] : [[name, inGraphQL(one, inner)] as const];
  });
  return Object.fromEntries(entries);
}

/** The arguments of a mutation, each with something of ours in it. */
function ownVariables({ name, args }: Field, aim: Aim): Record<string, unknown> {
  const [, of = ''] = /^[a-z]+(.*)$/.exec(name) ?? [];
  const kind = kindOf(of.charAt(0).toLowerCase() + of.slice(1));
  const plural = KINDS.find((one) => one.name === kind)?.plural;
  const record = operationsOf(aim.document).find(({ method, path }) => method === 'POST' && path === `/v1/${plural}`);
  const body = record ? (wholeBody(record, aim) ?? {}) : {};
  const clock = { wall: '2026-05-04T10:00:00Z', monotonicMs: 1, boot: 'b', sequence: 1 };
  const plain: Variables = {
    ...body,
    id: aim.ours.of(kind),
    baseRev: 1,
    value: aim.ours.of('visit'),
    reason: 'why',
    label: 'a phone',
    clock,
  };
  const values = args.map((arg): [string, unknown] => {
    if (arg.name === 'input') return [arg.name, inGraphQL(body, arg.type)];
    if (arg.name === 'requires') return [arg.name, [aim.ours.of('visit')]];
    return [arg.name, plain[arg.name] ?? (isId(arg.type) ? aim.ours.forField(arg.name) : undefined)];
  });
  return Object.fromEntries(values.filter(([, value]) => value !== undefined));
}

function mutationAttacks(field: Field, aim: Aim): Attack[] {
  const variables = ownVariables(field, aim);
  const text = (given: Variables) => question('mutation', field, Object.keys(given), resultOf(field));
  const [, verb = '', of = ''] = /^([a-z]+)(.*)$/.exec(field.name) ?? [];
  const kind = kindOf(of.charAt(0).toLowerCase() + of.slice(1));
  const foreignAt = (path: readonly string[]) => {
    if (path.join('/') === 'id') return aim.theirs.of(kind, verb === 'record' ? TAKEN_BY_GRAPHQL : 0);
    return aim.theirs.forField(path.findLast((part) => !/^\d+$/.test(part)) ?? '');
  };
  return idPlaces(variables).map((path): Attack => {
    const kept = path[0] === 'id' || verb !== 'record' ? variables : omit(variables, ['id']);
    const rest = path[0] === 'requires' ? kept : omit(kept, ['requires']);
    const given = (id: string) => replaced(rest, path, id) as Variables;
    return {
      name: `mutation ${field.name}`,
      roles: EVERY_ROLE,
      place: path[0] === 'id' ? 'argument id' : `body ${path.join('/')}`,
      foreign: foreignAt(path),
      with: (id) => asked(text(given(id)), given(id)),
    };
  });
}

function omit(value: Variables, names: readonly string[]): Record<string, unknown> {
  return Object.fromEntries(Object.entries(value).filter(([name]) => !names.includes(name)));
}

const RESULT =
  '{ outcome kind id rev feed seq conflicts setAside code detail pointer repeated record { id kind feed } }';

/** What a mutation answers: an outcome, or of an enrolment what a code is told by. */
function resultOf(field: Field): string {
  return graphql.getNamedType(field.type).name === 'MadeEnrolmentCode' ? '{ id code expiresAt }' : RESULT;
}

/** Every place of every field of the schema where an id may stand. */
export function graphAttacks(aim: Aim): Attack[] {
  return [
    ...queryFields().flatMap((field) => queryAttacks(field, aim)),
    ...mutationFields().flatMap((field) => mutationAttacks(field, aim)),
  ];
}

/** Questions of ours that name nothing of anybody else: every list, and every record with all that it leads to. */
export function plainQuestions({ ours }: Aim): Asked[] {
  return queryFields().flatMap((field) => {
    const id = field.args.find((arg) => arg.name === 'id');
    const isList = field.args.some(({ name }) => name === 'first');
    // each of our records fits, and what costs much may be asked of so few
    const given: Variables = id ? { id: ours.of(kindOf(field.name)) } : isList ? { first: 4 } : {};
    if (field.args.some((arg) => graphql.isRequiredArgument(arg) && arg !== id)) return [];
    return selections(field.type).map((selection) =>
      asked(question('query', field, Object.keys(given), selection), given),
    );
  });
}
