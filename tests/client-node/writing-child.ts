import { openFileStore } from '../../src/client-node/file-store.ts';
import { captured, page } from '../client/store-fixtures.ts';

/**
 * Writes into a folder until it is killed: captures one after the other, and now and then a page of a feed. What is
 * printed was stored before: `entry N` and `page N`. A refusal is printed as `refused CODE`, and it goes on.
 */
async function main(folder: string, compactBytes: number): Promise<void> {
  const store = await openFileStore({ folder, compactBytes });
  const say = (text: string) => void process.stdout.write(`${text}\n`);
  say(`open ${store.cutOff}`);
  let number = (await store.identity())?.nextMutation ?? 1;
  for (;;) {
    try {
      await store.commit(captured(number));
      say(`entry ${number}`);
      number += 1;
      if (number % 5 !== 0) continue;
      await store.commit([{ drop: 'feed', feed: 'event:one' }, ...page(number, number + 59)]);
      say(`page ${number}`);
    } catch (error) {
      say(`refused ${(error as { code?: string }).code}`);
      await new Promise((done) => setTimeout(done, 5));
    }
  }
}

const [folder = '', compactBytes = '4194304'] = process.argv.slice(2);
await main(folder, Number(compactBytes));
