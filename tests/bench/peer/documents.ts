import type { Push } from '../readings.ts';

/** A document as the peer takes it. */
export interface Document {
  readonly id: string;
  readonly text: string;
}

/** Something the peer is asked to store, ready to be sent. */
export interface PeerWrite {
  readonly method: 'POST' | 'PUT';
  readonly path: string;
  readonly body: Buffer;
  readonly documents: number;
}

/** The very bytes of a mutation or of a record, but that its id is called as the peer calls it. */
export function documentOf(text: string): Document {
  const id = /"id":"([^"]+)"/.exec(text)?.[1];
  if (id === undefined) throw new Error(`a record without an id: ${text.slice(0, 200)}`);
  return { id, text: text.replace('"id":"', '"_id":"') };
}

/** The mutations of a push, without the line that says who sends them. */
export function documentsOf(push: Push): Document[] {
  return push.body.toString('utf8').trimEnd().split('\n').slice(1).map(documentOf);
}

/** So many documents with one request. */
export function inBulk(database: string, documents: readonly Document[]): PeerWrite {
  const body = Buffer.from(`{"docs":[${documents.map((one) => one.text).join(',')}]}`);
  return { method: 'POST', path: `/${database}/_bulk_docs`, body, documents: documents.length };
}

/** One document with a request of its own. */
export function alone(database: string, { id, text }: Document): PeerWrite {
  return { method: 'PUT', path: `/${database}/${id}`, body: Buffer.from(text), documents: 1 };
}
