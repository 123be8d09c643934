import type { RecordState } from '../../src/protocol/record.ts';
import { HistoryCheck } from './check-history.ts';
import { checkReplicas, checkServer } from './check-replicas.ts';
import type { Features } from './features.ts';
import { heal } from './heal.ts';
import { play } from './play.ts';
import type { Violation } from './violation.ts';
import { type Seams, World } from './world.ts';

export interface Ran {
  readonly world: World;
  readonly violations: readonly Violation[];
  readonly rounds: number;
}

/** What a phone shows that follows everything. */
export function shownBy(world: World): Map<string, RecordState> {
  const feeds = [...(world.phones[0]?.contents.records.values() ?? [])];
  return new Map(feeds.flatMap((records) => [...records.values()].map(({ record }) => [record.id, record] as const)));
}

function poisonIsKept(world: World): void {
  const raw = new Set([...world.server.tables.setAside.values()].map((row) => row.raw.toString('utf8')));
  for (const { poison, line, told, key, excuse } of world.history.all()) {
    // what was lost with its phone and with a set-back is kept by nobody, as any other line
    if (!poison || told === null || excuse !== null || raw.has(line)) continue;
    // its number is part of the line, which is written anew under another client id
    if (world.phones.some(({ options }) => options.history !== world.history)) continue;
    if (![...raw].some((text) => text.includes(key.split(' ').slice(0, 2).join(' ')))) {
      world.findings.add('no silent loss', `the line ${key} was set aside and is not kept`);
    }
  }
}

/** Plays one world to its end, heals it, and judges it. */
export async function runSeed(seed: number, fixed: Partial<Features> = {}, seams: Seams = {}): Promise<Ran> {
  const world = await World.open(seed, fixed, seams);
  const { findings, history, features, server, watch } = world;
  await play(world);
  const rounds = await heal(world);
  checkReplicas(server, world.living, watch, findings);
  await checkServer(server, findings);
  new HistoryCheck(history, shownBy(world), features, findings).run();
  poisonIsKept(world);
  return { world, violations: findings.list, rounds };
}
