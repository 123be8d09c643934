import { describe, expect, it } from 'vitest';
import { alone, documentOf, documentsOf, inBulk } from './documents.ts';

const FIRST = '{"mutationId":1,"verb":"record","kind":"reading","id":"r-1","set":{"ph":"7.10","note":"$& \\"id\\":"}}';
const SECOND = '{"mutationId":2,"verb":"record","kind":"reading","id":"r-2","set":{"parent":{"id":"r-1"}}}';
const PUSH = { body: Buffer.from(`{"client":"c","count":2}\n${FIRST}\n${SECOND}\n`), mutations: 2 };

describe('what the peer is given to store', () => {
  it('is each mutation of a push with the bytes that we are sent, but for the name of its own id', () => {
    const documents = documentsOf(PUSH);
    expect(documents.map((one) => one.id)).toEqual(['r-1', 'r-2']);
    expect(documents.map((one) => one.text.replace('"_id":', '"id":'))).toEqual([FIRST, SECOND]);
    expect(documents.map((one) => JSON.parse(one.text)._id)).toEqual(['r-1', 'r-2']);
    expect(JSON.parse(documents[1]?.text ?? '')).toMatchObject({ set: { parent: { id: 'r-1' } } });
  });

  it('goes in bulk with one request, or alone under its own address', () => {
    const documents = documentsOf(PUSH);
    const bulk = inBulk('base', documents);
    expect(bulk).toMatchObject({ method: 'POST', path: '/base/_bulk_docs', documents: 2 });
    expect(JSON.parse(bulk.body.toString()).docs).toEqual(documents.map((one) => JSON.parse(one.text)));
    const [first = documentOf(FIRST)] = documents;
    expect(alone('base', first)).toEqual({
      method: 'PUT',
      path: '/base/r-1',
      body: Buffer.from(first.text),
      documents: 1,
    });
  });

  it('is nothing where a record has no id', () => {
    expect(() => documentOf('{"kind":"reading"}')).toThrow('a record without an id');
  });
});
