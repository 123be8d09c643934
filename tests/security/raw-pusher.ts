import { v7 } from 'uuid';
import type { Outcome } from '../../src/protocol/mutation.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { TestClient } from '../support/test-firm.ts';
import { visitDrafts } from '../support/visit-drafts.ts';

export type Body = string | Buffer;

/** The first line of a push. */
export const headerOf = (count: number, more: object = {}): string =>
  JSON.stringify({ client: v7(), schemaVersion: 1, first: 1, count, ...more });

/** A crew's phone at a purge that pushes whatever bytes a test gives it. */
export class RawPusher {
  readonly app: TestApp;
  readonly #crew: string;
  readonly #office: string;
  readonly #purge: string;

  private constructor(app: TestApp, crew: string, office: string, purge: string) {
    this.app = app;
    this.#crew = crew;
    this.#office = office;
    this.#purge = purge;
  }

  static async open(): Promise<RawPusher> {
    const app = await testApp();
    const { firm } = app;
    const { ids, drafts } = visitDrafts(firm);
    await new TestClient(await firm.actor('crew', firm.ids.phone), firm.lane).push(...drafts);
    return new RawPusher(app, await app.token('crew', firm.ids.phone), await app.token('coordinator'), ids.purge);
  }

  async send(payload: Body, headers: Record<string, string> = {}) {
    const all = { authorization: `Bearer ${this.#crew}`, 'content-type': 'application/x-ndjson', ...headers };
    const asked = { method: 'POST', url: '/v1/sync/push', headers: all, payload } as const;
    const { statusCode: status, body } = await this.app.app.inject(asked);
    return { status, body: JSON.parse(body) as Record<string, unknown> };
  }

  /** Pushes lines under a header that fits them. */
  async lines(...lines: readonly Body[]): Promise<Outcome[]> {
    const parts = [Buffer.from(headerOf(lines.length)), ...lines.map((line) => Buffer.from(line as string))];
    const { status, body } = await this.send(Buffer.concat(parts.flatMap((part) => [part, Buffer.from('\n')])));
    if (status !== 200) throw new Error(`the push was answered ${status}: ${JSON.stringify(body)}`);
    return body.outcomes as Outcome[];
  }

  /** A line that records a reading, with a text in the place of its pH, and another behind its last field. */
  reading(ph: string, more = '', mutationId = 1): string {
    const observed = JSON.stringify(this.app.firm.observed('2026-05-04T10:05:00-05:00'));
    const set = `{"purge":"${this.#purge}","ph":${ph},"observed":${observed}${more}}`;
    return `{"mutationId":${mutationId},"verb":"record","kind":"reading","id":"${v7()}","set":${set}}`;
  }

  /** What the office reads at an address. */
  async read(url: string): Promise<Record<string, unknown>> {
    return (await this.app.app.inject({ url, headers: { authorization: `Bearer ${this.#office}` } })).json();
  }

  /** The bytes that were set aside. */
  async rawOf(setAside: string): Promise<Buffer> {
    return Buffer.from(String((await this.read(`/v1/set-asides/${setAside}`)).raw), 'base64');
  }
}
