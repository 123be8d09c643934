import { expect, it } from 'vitest';
import type { OpenConflict } from '../../src/client/conflicts.ts';
import { chosenValue, neitherValue, valueWords } from '../../src/client-node/crew/conflict-value.ts';
import { openPhone, SimClock } from '../client/fake/phone.ts';
import { firmServer, MEMBER, uuid } from '../client/fake/world.ts';

interface Rival {
  readonly value: unknown;
  readonly by?: string;
}

/** A conflict as a phone lists it that has pulled it. */
async function listed(type: 'field' | 'void', shown: Rival, ...kept: readonly Rival[]): Promise<OpenConflict> {
  const phone = await openPhone({ server: firmServer(), clock: new SimClock(), seed: 1 });
  const fields = { type, subjectKind: 'reading', subject: uuid(1), standing: 'open', sentence: 'two', shown, kept };
  const none = { rev: 1, voided: null, by: null, client: null, mutation: null, reason: null, clock: null };
  const record = { kind: 'conflict', id: uuid(2), fields, ...none };
  await phone.context.store.commit([{ put: 'record', stored: { feed: 'firm', seq: 1, hash: '0', record } }]);
  const [found] = await phone.conflicts();
  if (!found) throw new Error('no conflict is listed');
  return found;
}

it('takes a value by its number or as it is listed', async () => {
  const conflict = await listed('field', { value: '7.10' }, { value: '7.11' });
  expect(['1', '2', '7.10', '7.11'].map((given) => chosenValue(conflict, given))).toEqual([
    '7.10',
    '7.11',
    '7.10',
    '7.11',
  ]);
  for (const given of ['3', '7.1', '0', ''])
    expect(() => chosenValue(conflict, given)).toThrow(`there is no value ${given}: crew conflicts lists them`);
});

it('asks where a number is one of the values and the number of another', async () => {
  const conflict = await listed('field', { value: '2' }, { value: '14' });
  expect(() => chosenValue(conflict, '2')).toThrow(
    '"2" is one of the values, and the number of another: give number 1',
  );
  expect([chosenValue(conflict, '1'), chosenValue(conflict, '14')]).toEqual(['2', '14']);
  expect(chosenValue(await listed('field', { value: '1' }, { value: '14' }), '1')).toBe('1');
});

it('says in words whether a record counts, and takes them', async () => {
  const conflict = await listed('void', { value: true }, { value: false });
  expect(conflict.choices.map(({ value }) => valueWords(conflict, value))).toEqual(['does not count', 'counts']);
  expect(['counts', 'does not count', '1'].map((given) => chosenValue(conflict, given))).toEqual([false, true, true]);
  expect(() => neitherValue(conflict, 'perhaps', 'who knows')).toThrow('it counts or it does not');
});

it('takes a value that nobody gave with a reason, in the form of those given', async () => {
  const figures = await listed('field', { value: '7.10' }, { value: '7.11' });
  expect(neitherValue(figures, '7.12', 'from the photo')).toBe('7.12');
  expect(() => neitherValue(figures, '7.12', ' ')).toThrow('takes a reason');
  expect(() => neitherValue(figures, '7.11', 'from the photo')).toThrow('is one of the values given');
  const counts = await listed('field', { value: null }, { value: 3 });
  expect(neitherValue(counts, '4', 'counted again')).toBe(4);
  expect(() => neitherValue(counts, 'four', 'counted again')).toThrow('not of the form of the values given, such as 3');
});

it('lists a value once that one person gave on two devices, and twice where two people did', async () => {
  const [one, two] = [MEMBER, uuid(3)];
  const again = await listed(
    'field',
    { value: '7.10', by: one },
    { value: '7.11', by: two },
    { value: '7.11', by: two },
  );
  expect(again.choices.map(({ value }) => value)).toEqual(['7.10', '7.11']);
  const both = await listed(
    'field',
    { value: '7.10', by: one },
    { value: '7.11', by: one },
    { value: '7.11', by: two },
  );
  expect(both.choices.map(({ by }) => by)).toEqual([one, one, two]);
});
