import fc from 'fast-check';
import { v7 } from 'uuid';
import { describe, expect, it } from 'vitest';
import { firmSecret } from '../../../src/reads/laboratory/firm-secret.ts';
import { type ListPlace, readListPlace, writeListPlace } from '../../../src/reads/laboratory/list-cursor.ts';
import { toldId } from '../../../src/rules/laboratory/told-ids.ts';

const KEY = Buffer.alloc(32, 9);
const FIRM = '0190f000-0000-7000-8000-00000000000a';
const secret = firmSecret(KEY, FIRM);

function place(seq: number): ListPlace {
  const history = Buffer.from('0123456789abcdef', 'hex');
  return { epoch: FIRM, laboratory: v7(), event: v7(), seqs: [seq, 5, 9], history };
}

describe('the cursor of a list', () => {
  it('is read back as it was written, with its own secret and no other', () => {
    fc.assert(
      fc.property(fc.nat(2 ** 31), (seq) => {
        const its = place(seq);
        const text = writeListPlace(secret, its);
        expect(readListPlace(secret, text)).toEqual(its);
        expect(readListPlace(firmSecret(KEY, v7()), text)).toBe(null);
      }),
    );
  });

  it('has one length, and no byte in common that would tell an order', () => {
    const texts = [0, 1, 2, 1_000_000].map((seq) => Buffer.from(writeListPlace(secret, place(seq)), 'base64url'));
    expect(new Set(texts.map(({ length }) => length)).size).toBe(1);
    const [first] = texts;
    const same = texts.slice(1).flatMap((one) => [...one].filter((byte, at) => byte === first?.[at]));
    // by chance one byte in 256 is the same
    expect(same.length).toBeLessThan(12);
  });

  it('that was changed anywhere is none', () => {
    const bytes = Buffer.from(writeListPlace(secret, place(7)), 'base64url');
    bytes.forEach((_, at) => {
      const changed = Buffer.from(bytes);
      changed[at] = (changed[at] ?? 0) ^ 1;
      expect(readListPlace(secret, changed.toString('base64url'))).toBe(null);
    });
  });
});

describe('the id under which a laboratory knows a record', () => {
  it('is a UUID, the same each time, another for each laboratory and firm, and in no order', () => {
    const records = Array.from({ length: 400 }, () => v7()).toSorted();
    const ids = records.map((record) => toldId(secret, FIRM, record));
    expect(ids.every((id) => /^[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/.test(id))).toBe(
      true,
    );
    expect(ids).toEqual(records.map((record) => toldId(secret, FIRM, record)));
    const [record = ''] = records;
    const others = [toldId(secret, v7(), record), toldId(firmSecret(KEY, v7()), FIRM, record), ids[0]];
    expect(new Set(others).size).toBe(3);
    const rising = ids.filter((id, at) => at > 0 && id > (ids[at - 1] ?? '')).length;
    // half of 399 rise by chance; five deviations
    expect(Math.abs(rising - 199.5)).toBeLessThan(5 * Math.sqrt(399 / 12) + 1);
  });
});
