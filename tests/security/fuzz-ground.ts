import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { AnswerCheck } from './answer-check.ts';
import { type ApiDocument, documentOf, operationsOf } from './api-document.ts';
import { plainRead } from './attacks.ts';
import { FirmIds } from './firm-ids.ts';
import type { Speakers } from './matrix.ts';
import type { Ground } from './request-arbitrary.ts';
import { mustDo, type Speaker } from './speaker.ts';
import { makeFirm, type OpenServer, openServer, speakersOf } from './two-firms.ts';

/** A server with a firm in it that has some of everything, to be asked anything. */
export interface FuzzGround extends Ground {
  readonly db: TestDatabase;
  readonly server: OpenServer;
  readonly speakers: Speakers;
  readonly check: AnswerCheck;
  close(): Promise<void>;
}

/** A cursor of every list, where it has a second page. */
async function cursorsOf(document: ApiDocument, ids: FirmIds, by: Speaker): Promise<Map<string, string>> {
  const paged = operationsOf(document).filter(({ parameters }) => parameters.some(({ name }) => name === 'cursor'));
  const pages = paged.map(async (operation): Promise<[string, string][]> => {
    const { url } = plainRead(operation, { document, ours: ids, theirs: ids });
    const { next, cursor = next } = await mustDo(by, { method: 'GET', url: `${url}?limit=1` });
    return typeof cursor === 'string' ? [[operation.path, cursor]] : [];
  });
  return new Map((await Promise.all(pages)).flat());
}

/** Tokens that may be withdrawn, instead of those that the fuzz speaks with. */
async function withTokens({ firm, byKind }: FirmIds, by: Speaker): Promise<FirmIds> {
  const issue = () => mustDo(by, { method: 'POST', url: '/v1/tokens', payload: { label: 'x', role: 'dashboard' } });
  const tokens = (await Promise.all([issue(), issue(), issue()])).map(({ id }) => String(id));
  return new FirmIds(firm, new Map([...byKind, ['token', tokens]]));
}

export async function fuzzGround(): Promise<FuzzGround> {
  const db = await testDatabase();
  const server = await openServer(db.pool);
  const firm = await makeFirm(db.bypass, db.pool, server.app, 'Plain');
  const speakers = speakersOf(server.app, firm.secrets);
  const document = await documentOf(server.app);
  const ids = await withTokens(firm.ids, speakers.admin);
  const cursors = await cursorsOf(document, ids, speakers.admin);
  const check = new AnswerCheck(document);
  return { db, server, speakers, document, ids, cursors, check, close: () => server.close().finally(() => db.drop()) };
}
