import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readJsonBody } from '../../../src/doors/rest/json-body.ts';

describe('readJsonBody', () => {
  it('gives what JSON.parse gives, or refuses with a code, whatever the bytes', () => {
    fc.assert(
      fc.property(fc.oneof(fc.uint8Array(), fc.string().map(Buffer.from), fc.json().map(Buffer.from)), (bytes) => {
        const buffer = Buffer.from(bytes);
        try {
          expect(readJsonBody(buffer)).toEqual(buffer.length === 0 ? undefined : JSON.parse(buffer.toString()));
        } catch (error) {
          expect(error).toHaveProperty('code', expect.stringMatching(/^(unreadable_|too_deep)/));
        }
      }),
    );
  });
});
