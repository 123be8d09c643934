import { expect, it } from 'vitest';
import { Gate } from '../../../src/doors/sync/gate.ts';

const here = () => false;

function turns() {
  return new Promise<void>((resolve) => setImmediate(resolve));
}

/** Work that is done when a test says so. */
function work(name: string, begun: string[]) {
  let done: (fail?: Error) => void = () => undefined;
  const run = () => {
    begun.push(name);
    return new Promise<string>((resolve, reject) => {
      done = (fail) => (fail ? reject(fail) : resolve(name));
    });
  };
  return { run, done: (fail?: Error) => done(fail) };
}

it('[L8] lets so many through at once and the others in their order, also after one that failed', async () => {
  const gate = new Gate(2, 10);
  const begun: string[] = [];
  const works = ['a', 'b', 'c', 'd'].map((name) => work(name, begun));
  const results = works.map(({ run }) => gate.through(run, here));
  const failed = expect(results[1]).rejects.toThrow('no');
  await turns();
  expect(begun).toEqual(['a', 'b']);
  works[1]?.done(new Error('no'));
  await failed;
  await turns();
  expect(begun).toEqual(['a', 'b', 'c']);
  works[0]?.done();
  works[2]?.done();
  await turns();
  works[3]?.done();
  expect(await Promise.all([results[0], results[2], results[3]])).toEqual(['a', 'c', 'd']);
  expect(await gate.through(async () => 'e', here)).toBe('e');
});

it('[L8] tells at once whoever would wait too long, and does nothing for those who have gone', async () => {
  const gate = new Gate(1, 2);
  const begun: string[] = [];
  const [first, second, third] = ['a', 'b', 'c'].map((name) => work(name, begun));
  if (!first || !second || !third) throw new Error('no work');
  const one = gate.through(first.run, here);
  const gone = expect(gate.through(second.run, () => true)).rejects.toMatchObject({ code: 'busy' });
  const last = gate.through(third.run, here);
  await expect(gate.through(async () => 'd', here)).rejects.toMatchObject({ code: 'busy' });
  first.done();
  await Promise.all([one, gone]);
  await turns();
  expect(begun).toEqual(['a', 'c']);
  third.done();
  expect(await last).toBe('c');
});
