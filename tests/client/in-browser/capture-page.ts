import { v7 } from 'uuid';
import type { IdbApi } from '../../../src/client/idb-like.ts';
import { openIndexedDbStore } from '../../../src/client/indexed-db-store.ts';
import { captured } from '../store-fixtures.ts';
import { tell } from './tell.ts';

/** Captures one change after the other, and says of each that it is kept as soon as the store says so. */
const store = await openIndexedDbStore({ api: globalThis as unknown as IdbApi, name: 'field', newId: v7 });
const outbox = await store.outbox();
const next = (await store.identity())?.nextMutation ?? 1;
await tell('found', { numbers: outbox.map(({ mutationId }) => mutationId), next });
for (let number = next; ; number += 1) {
  await store.commit(captured(number));
  void tell('kept', number);
}
