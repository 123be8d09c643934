import { z } from 'zod';
import type { Context } from '../../../context.ts';
import { id, instant, text } from '../../../protocol/primitives.ts';
import { Problem } from '../../../protocol/problem.ts';
import { enrolmentPage, oneEnrolment } from '../../../reads/enrolment-page.ts';
import { CODE_MINUTES, MOST_CODE_MINUTES, readEnrolmentCode } from '../../../store/enrolment-secret.ts';
import { enrol } from '../../../writes/enrol.ts';
import { EVERY_ROLE, type TokenMemory } from '../../authenticate.ts';
import { makeCode, withdrawCode } from '../../enrolment.ts';
import { WrongGuesses } from '../../wrong-guesses.ts';
import { type Api, OFFICE } from '../api.ts';
import { idParams, nextLink, paging } from '../list-shapes.ts';
import { answer, BODY_CODES, openProblems, problems } from '../problem-docs.ts';

const config = { access: OFFICE };
const tags = ['token'];

const shown = z
  .strictObject({
    id,
    label: z.string(),
    role: z.enum(EVERY_ROLE),
    device: id.nullable(),
    crew: id.nullable(),
    person: id.nullable(),
    madeAt: instant,
    expiresAt: instant,
    withdrawnAt: instant.nullable(),
    usedAt: instant.nullable(),
    usedLabel: z.string().nullable().describe('What the phone that used it calls itself'),
    token: id.nullable().describe('The token that it gave out'),
    standing: z.enum(['open', 'used', 'withdrawn', 'expired']),
  })
  .meta({ id: 'EnrolmentCode', description: 'A code without the code, which is shown once and not kept' });

const made = shown
  .extend({ code: z.string().describe('Shown this once; the text of a QR code, too') })
  .meta({ id: 'MadeEnrolmentCode' });

const wish = z
  .strictObject({
    label: text().describe('Whose phone, in words'),
    role: z.enum(EVERY_ROLE).default('crew'),
    device: id.optional().describe('The device record that the phone is to speak for'),
    crew: id.optional().describe('Instead of a device: a device record of this crew is made when the code is used'),
    person: id.optional().describe('The member at that new device'),
    minutes: z.int().min(1).max(MOST_CODE_MINUTES).default(CODE_MINUTES),
  })
  .meta({ id: 'NewEnrolmentCode' });

const enrolling = z
  .strictObject({
    code: z.string().max(64).describe('As it was read out; capitals, spaces and hyphens do not matter'),
    secret: z
      .string()
      .regex(/^wrt_[A-Za-z0-9_-]{43}$/)
      .describe(
        'The token from now on: wrt_ and 32 random bytes in base64url, made on the phone, and kept before asking',
      ),
    label: text().optional().describe('What the phone calls itself. Default: as the office called it'),
  })
  .meta({ id: 'Enrolling' });

const enrolled = z
  .strictObject({ token: id, role: z.enum(EVERY_ROLE), device: id.nullable() })
  .meta({ id: 'Enrolled', description: 'The secret that the phone sent is a token from now on' });

function makeRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'makeEnrolmentCode',
    summary: 'Make a code with which a phone gets its token',
    description: 'The code is in this answer and nowhere else, so a repeated request makes another.',
    tags,
    body: wish,
    response: { 201: answer('The code', made), ...problems(...BODY_CODES) },
  };
  api.post('/enrolment-codes', { schema, config }, async (request, reply) => {
    const code = await makeCode(ctx, request.actor, request.body);
    reply.code(201).header('cache-control', 'no-store').header('location', `/v1/enrolment-codes/${code.id}`);
    return code;
  });
}

function listRoutes(api: Api, ctx: Context): void {
  const list = {
    operationId: 'listEnrolmentCodes',
    summary: 'The enrolment codes of the firm without the codes, and what became of each',
    tags,
    querystring: z.strictObject(paging),
    response: {
      200: answer('A page', z.strictObject({ items: z.array(shown), next: z.string().nullable() })),
      ...problems(),
    },
  };
  api.get('/enrolment-codes', { schema: list, config }, async (request, reply) => {
    const { items, next } = await enrolmentPage(ctx, request.actor, request.query);
    return reply.headers(nextLink(request.url, next)).send({ items: [...items], next });
  });
  const one = {
    operationId: 'getEnrolmentCode',
    summary: 'One enrolment code, without the code',
    tags,
    params: idParams,
    response: { 200: answer('What became of it', shown), ...problems('not_found') },
  };
  api.get('/enrolment-codes/:id', { schema: one, config }, async (request) =>
    oneEnrolment(ctx, request.actor, request.params.id),
  );
}

function withdrawRoute(api: Api, ctx: Context): void {
  const schema = {
    operationId: 'withdrawEnrolmentCode',
    summary: 'Withdraw an enrolment code that gave out no token',
    description: 'A token that it gave out stays, and the code with it; that is revoked by itself.',
    tags,
    params: idParams,
    response: { 200: answer('What became of it', shown), ...problems('not_found', ...BODY_CODES) },
  };
  api.post('/enrolment-codes/:id/withdraw', { schema, config }, async (request) =>
    withdrawCode(ctx, request.actor, request.params.id),
  );
}

/** Without a token: the code is what the phone has. Wrong ones are bounded, and all are told the same. */
function enrolRoute(api: Api, ctx: Context, memory: TokenMemory): void {
  const guesses = new WrongGuesses(ctx.now);
  const schema = {
    operationId: 'enrol',
    summary: 'Put a phone under a token, with a code',
    description:
      'The phone makes the secret of its token itself. The same request again has the same answer while the code is valid, so a lost answer harms nothing; with another secret a code is used up.',
    tags,
    security: [],
    body: enrolling,
    response: { 200: answer('The token counts', enrolled), ...openProblems('enrolment_refused', ...BODY_CODES) },
  };
  api.post('/enrol', { schema, config: { access: 'open' } }, async (request, reply) => {
    const { code } = request.body;
    if (readEnrolmentCode(code) === null) {
      throw new Problem('unreadable_record', '/code is no code: it has ten letters and digits', { pointer: '/code' });
    }
    guesses.take(request.ip);
    const done = await enrol(ctx, request.body);
    if (!done) throw new Problem('enrolment_refused', 'this code is not taken, or not any more');
    guesses.giveBack(request.ip);
    memory.forget();
    return reply.header('cache-control', 'no-store').send(done);
  });
}

/** POST and GET /enrolment-codes, /enrolment-codes/ID, POST /enrolment-codes/ID/withdraw, and POST /enrol. */
export function enrolmentRoutes(api: Api, ctx: Context, memory: TokenMemory): void {
  makeRoute(api, ctx);
  listRoutes(api, ctx);
  withdrawRoute(api, ctx);
  enrolRoute(api, ctx, memory);
}
