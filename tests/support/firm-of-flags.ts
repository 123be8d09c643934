import { expect } from 'vitest';
import type { Held } from '../../src/rules/held.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { EquipmentFirm } from './equipment-firm.ts';
import { sampleId } from './sample-drafts.ts';
import type { TestDatabase } from './test-database.ts';
import type { Draft } from './test-firm.ts';

const reason = 'of a test';

/**
 * A firm of which some flags are looked at; after each push everything that is derived is computed again and compared.
 *
 * @param isOne whether a flag is one of those
 */
export async function firmOfFlags(db: TestDatabase, isOne: (held: Held) => boolean) {
  const world = await new EquipmentFirm(db.pool, db.bypass).setUp();
  const { firm } = world;
  const flags = async () =>
    (await world.told('flag')).filter(({ fields }) =>
      isOne({ state: { kind: 'flag', fields } } as unknown as Parameters<typeof isOne>[0]),
    );
  const codes = async () => (await flags()).map(({ fields }) => String(fields.rule)).toSorted();
  const one = async (...drafts: Draft[]) => {
    await world.push(drafts);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  };
  const change = (kind: string, name: string, set: object, rev = 1): Draft => {
    return { kind, verb: 'amend', id: sampleId(name), base: { rev }, set: { ...set }, reason };
  };
  const away = (kind: string, name: string, rev = 1): Draft => {
    return { kind, verb: 'void', id: sampleId(name), base: { rev }, reason };
  };
  return { world, firm, flags, codes, one, change, away };
}
