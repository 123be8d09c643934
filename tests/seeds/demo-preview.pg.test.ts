import { afterAll, beforeAll, expect, it } from 'vitest';
import { syncPhone } from '../../seeds/play/phone.ts';
import { previewVisit } from '../../src/client/preview/preview.ts';
import { type PlayedOnce, playOnce } from './played.ts';

let p: PlayedOnce;

beforeAll(async () => {
  p = await playOnce();
}, 120_000);
afterAll(() => p?.close());

it('[P1] a phone that has pulled the whole demo event says of each visit what the server said', async () => {
  const { desk } = p.entered;
  await syncPhone(desk);
  const visits = await desk.client.all('visit');
  expect(visits.length).toBeGreaterThan(10);
  let said = 0;
  for (const { record } of visits) {
    const { ahead, assessments, flags, conflicts, summary } = await previewVisit(desk.client, record.id);
    const all = [...assessments, ...flags, ...conflicts, ...(summary ? [summary] : [])];
    said += all.length;
    expect(all.filter(({ agrees }) => !agrees)).toEqual([]);
    expect(ahead).toMatchObject({ unsent: 0, notPulled: 0, agrees: true });
  }
  expect(said).toBeGreaterThan(40);
});
