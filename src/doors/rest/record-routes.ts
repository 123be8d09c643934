import type { Context } from '../../context.ts';
import { withArticle } from '../../protocol/field-words.ts';
import type { KindDefinition } from '../../protocol/kind.ts';
import type { OneShot } from '../one-shot.ts';
import { aimAt, type Base, mustKnow } from './aim.ts';
import { type Api, WRITERS } from './api.ts';
import { answerChange, change, changeAnswers, changeHeaders, ifMatchHeaders, keyOf } from './change.ts';
import { kindShapes, type Manner, pascal, split, voidBody } from './kind-shapes.ts';
import { idParams } from './list-shapes.ts';

const config = { access: WRITERS };

function recordRoute(api: Api, ctx: Context, kind: KindDefinition): void {
  const schema = {
    operationId: `record${pascal(kind.name)}`,
    summary: `Record ${withArticle(kind.name)}`,
    description: `${kind.description} Written by ${kind.writers.join(', ')}; of others it is set aside.`,
    tags: [kind.name],
    headers: changeHeaders,
    body: kindShapes(kind).toRecord,
    response: changeAnswers(201),
  };
  api.post(`/${kind.plural}`, { schema, config }, async (request, reply) => {
    const { set: given, manner } = split(request.body as object);
    const { id = null, ...set } = given as { id?: string };
    // a firm has the id of the firm itself
    const own = kind.name === 'firm' ? request.actor.firm : null;
    const shot: OneShot = { verb: 'record', kind: kind.name, id: id ?? own, set, ...manner };
    return answerChange(reply, shot, await change(ctx, request.actor, keyOf(request), shot));
  });
}

function amendRoute(api: Api, ctx: Context, kind: KindDefinition): void {
  const codes = ['record_missing', 'revision_differs', 'base_missing', 'nothing_to_change', 'home_fixed'] as const;
  const schema = {
    operationId: `amend${pascal(kind.name)}`,
    summary: `Change or correct ${withArticle(kind.name)}`,
    description:
      'Fields that are left out stay as they are, null clears one. What others changed since what you had seen is ' +
      'merged; where both changed the same field, both values are kept as a conflict.',
    tags: [kind.name],
    params: idParams,
    headers: ifMatchHeaders,
    body: kindShapes(kind).toAmend,
    response: changeAnswers(200, ...codes),
  };
  api.patch(`/${kind.plural}/:id`, { schema, config }, async (request, reply) => {
    const { set: given, manner } = split(request.body as object);
    const { base: said, ...set } = given as { base?: Base };
    const { id } = request.params;
    const base = mustKnow(await aimAt(ctx, request, { kind, id }, said));
    const shot: OneShot = { verb: 'amend', kind: kind.name, id, base, set, ...manner };
    return answerChange(reply, shot, await change(ctx, request.actor, keyOf(request), shot));
  });
}

function voidRoute(api: Api, ctx: Context, kind: KindDefinition): void {
  const schema = {
    operationId: `void${pascal(kind.name)}`,
    summary: `Take ${withArticle(kind.name)} out of the count`,
    description: 'It stays readable, with the reason.',
    tags: [kind.name],
    params: idParams,
    headers: ifMatchHeaders,
    body: voidBody,
    response: changeAnswers(200, 'record_missing', 'revision_differs'),
  };
  api.post(`/${kind.plural}/:id/void`, { schema, config }, async (request, reply) => {
    const { base: said, ...manner } = request.body;
    const { id } = request.params;
    const base = await aimAt(ctx, request, { kind, id }, said);
    const shot: OneShot = { verb: 'void', kind: kind.name, id, ...(manner as Manner), ...(base ? { base } : {}) };
    return answerChange(reply, shot, await change(ctx, request.actor, keyOf(request), shot));
  });
}

/** POST /PLURAL, PATCH /PLURAL/ID and POST /PLURAL/ID/void. */
export function recordRoutes(api: Api, ctx: Context, kind: KindDefinition): void {
  recordRoute(api, ctx, kind);
  amendRoute(api, ctx, kind);
  voidRoute(api, ctx, kind);
}
