import { SCHEMA_VERSION } from '../../src/protocol/version.ts';
import type { Action } from './doing.ts';
import { Died } from './sim-phone.ts';

/** A line of a newer app, or one that nobody can read: the server is to keep it as it came and to go on. */
export const poison: Action = async ({ phone, chance }) => {
  const { identity } = phone.contents;
  if (!identity || !phone.isOn) return;
  const { client, nextMutation: mutationId, sequence } = identity;
  const id = chance.uuid();
  const clock = { wall: phone.wall(), monotonicMs: 0, boot: `poison ${chance.uuid()}`, sequence: sequence + 1 };
  const set = chance.yes(0.5) ? { unheardOf: 'a\u0000b' } : { remark: 'x'.repeat(70_000) };
  const kind = chance.pick(['unheard-of', 'reading']);
  const line = JSON.stringify({ mutationId, verb: 'record', kind, id, set, clock });
  const { wall: captured } = clock;
  const numbers = { client, mutationId, sequence: sequence + 1, schemaVersion: SCHEMA_VERSION };
  const entry = { ...numbers, captured, kind, id, line, was: null, outcome: null };
  const after = { ...identity, nextMutation: mutationId + 1, sequence: sequence + 1 };
  const store = phone.client.context.store;
  try {
    await store.commit([
      { put: 'entry', entry: { ...entry, dismissed: false } },
      { put: 'identity', identity: after },
    ]);
  } catch (error) {
    if (!(error instanceof Died)) throw error;
  }
  const kept = phone.contents.entries.get(`${client} ${mutationId}`);
  if (kept) phone.options.history.add(phone.at, kept, { seen: null, sawVoid: false, followed: new Set() }, true);
};
