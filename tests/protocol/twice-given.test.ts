import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { jsonShape, membersOf } from '../../src/protocol/json-shape.ts';
import { fieldGivenTwice } from '../../src/protocol/twice-given.ts';

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

describe('jsonShape', () => {
  it('counts the members that are written and the depth, whatever stands inside a text', () => {
    expect(jsonShape('{"a":{"b":["x:{[",{"c\\":":1}]}}')).toEqual({ depth: 4, members: 3 });
    expect(jsonShape('"a:b"')).toEqual({ depth: 0, members: 0 });
  });

  it('counts as many as the parsed value has, unless one is given twice', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const text = JSON.stringify(value);
        expect(jsonShape(text).members).toBe(membersOf(JSON.parse(text)));
      }),
    );
    expect(jsonShape('[{"a":1,"a":1}]').members).toBe(2);
    expect(membersOf(JSON.parse('[{"a":1,"a":1}]'))).toBe(1);
    expect(membersOf(JSON.parse('{"__proto__":{"a":1}}'))).toBe(2);
  });
});
