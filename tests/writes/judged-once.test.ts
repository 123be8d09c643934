import { expect, it } from 'vitest';
import type { Derived } from '../../src/rules/derive/derived.ts';
import { judgedOnce } from '../../src/writes/samples/judged-once.ts';

function flag(id: string, times: number): Derived {
  return { kind: 'flag', id, fields: { times }, feed: 'event:e', parent: 'p', visit: null };
}

function counted(...ids: string[]) {
  let times = 0;
  const judge = () => {
    times++;
    return ids.map((id) => flag(id, times));
  };
  return { judge, times: () => times };
}

it('judges once, and again only where somebody reviewed a flag', async () => {
  const [good, plain, reviewed] = [counted(), counted('a', 'b'), counted('c', 'd')];
  const asked: string[] = [];
  const judges = [good, plain, reviewed].map(({ judge }) => judge);
  const flags = await judgedOnce(judges, async (ids) => {
    asked.push(...ids);
    return [{ parent: 'd' }, { parent: 'of a flag that is no more' }];
  });
  expect(asked).toEqual(['a', 'b', 'c', 'd']);
  expect(flags).toEqual([flag('a', 1), flag('b', 1), flag('c', 2), flag('d', 2)]);
  expect([good, plain, reviewed].map(({ times }) => times())).toEqual([1, 1, 2]);
});
