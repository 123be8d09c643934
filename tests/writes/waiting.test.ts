import { v7 } from 'uuid';
import { expect, it } from 'vitest';
import type { SetAsideRow } from '../../src/store/write/load-set-aside.ts';
import { readWaiting } from '../../src/writes/waiting.ts';

const row: Omit<SetAsideRow, 'raw' | 'schemaVersion'> = {
  id: v7(),
  client: v7(),
  mutation: 7,
  role: 'coordinator',
  person: null,
  code: 'device_revoked',
  standing: 'kept',
  differenceMs: null,
  uncertaintyMs: null,
  device: null,
  since: null,
  carrier: null,
};

function fieldsOf(schemaVersion: number | null, more: object): unknown {
  const line = { mutationId: 7, verb: 'resolve', kind: 'conflict', id: v7(), base: { rev: 1 }, ...more };
  const [waiting] = readWaiting([{ ...row, schemaVersion, raw: Buffer.from(JSON.stringify(line)) }]);
  return waiting?.read.fields;
}

it('[M8] [V5] what was set aside before versions were noted says `neither` by its reason, as what its time wrote does', () => {
  const set = { value: '7.07' };
  const reason = 'read again';
  for (const version of [null, 1, 2]) {
    expect(fieldsOf(version, { set, reason })).toEqual({ ...set, neither: true });
    expect(fieldsOf(version, { set })).toEqual(set);
  }
  expect(fieldsOf(3, { set, reason })).toEqual(set);
});
