import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readJsonBody } from '../../../src/doors/rest/json-body.ts';
import { fieldGivenTwice } from '../../../src/doors/rest/twice-given.ts';

describe('fieldGivenTwice', () => {
  it('points at the first field that an object is given twice', () => {
    expect(fieldGivenTwice('{"a":1,"a":2}')).toBe('/a');
    expect(fieldGivenTwice('{"a":{"b":[0,{"c/d":1 , "c/d" : 1}]}}')).toBe('/a/b/1/c~1d');
    expect(fieldGivenTwice('{"\\u0061":1,"a":2}')).toBe('/a');
    expect(fieldGivenTwice('[[],{"":1,"":2}]')).toBe('/1/');
  });

  it('is not misled by equal names elsewhere, by values, or by what stands inside a text', () => {
    expect(fieldGivenTwice('{"a":{"a":{"a":"a"}},"b":["a","a"],"c":"\\"a\\":1,\\"a\\":2"}')).toBeNull();
    expect(fieldGivenTwice('[{"a":1},{"a":1}]')).toBeNull();
    expect(fieldGivenTwice('{"a":"}","b":"{","c\\\\":"]"}')).toBeNull();
  });

  it('never finds one in what JSON.stringify wrote, however it is indented', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.integer({ min: 0, max: 3 }), (value, indent) => {
        expect(fieldGivenTwice(JSON.stringify(value, null, indent))).toBeNull();
      }),
    );
  });

  it('finds any that is put in', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.jsonValue(), { minKeys: 1 }), fc.jsonValue(), (object, value) => {
        const [name = ''] = Object.keys(object);
        const text = `${JSON.stringify(object).slice(0, -1)},${JSON.stringify(name)}:${JSON.stringify(value)}}`;
        expect(fieldGivenTwice(text)).toBe(`/${name.replaceAll('~', '~0').replaceAll('/', '~1')}`);
      }),
    );
  });
});

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
