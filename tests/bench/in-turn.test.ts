import { expect, it } from 'vitest';
import { alternating } from './in-turn.ts';

it('lets the other side go first in every second round, and tells each side by its name', async () => {
  const inTurn = alternating();
  const went: string[] = [];
  const side = (name: string) => async () => {
    went.push(name);
    return name;
  };
  for (let round = 1; round <= 4; round++) {
    expect(await inTurn(side('own'), side('other'))).toEqual({ own: 'own', other: 'other' });
  }
  expect(went).toEqual(['own', 'other', 'other', 'own', 'own', 'other', 'other', 'own']);
});

it('begins the one when the other is done', async () => {
  let running = 0;
  const side = async () => {
    expect(++running).toBe(1);
    await Promise.resolve();
    running -= 1;
  };
  const inTurn = alternating();
  await inTurn(side, side);
  await inTurn(side, side);
});
