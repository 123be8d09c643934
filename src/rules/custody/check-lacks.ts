import type { CheckRecord } from '../samples/sample-records.ts';
import { needsCold } from './cold.ts';
import type { CoolerFacts } from './cooler-facts.ts';

export type CheckLacks = 'temperature' | 'ice' | 'place' | 'seals';

function lacksOf({ fields }: CheckRecord): Readonly<Record<CheckLacks, boolean>> {
  return {
    temperature: fields.temperatureC == null,
    ice: fields.ice == null,
    place: fields.place == null,
    seals: fields.sealsIntact == null,
  };
}

/** What none of the looks after a cooler in one night tells; of several each may tell a part. */
export function checkLacks(checks: readonly CheckRecord[], facts: CoolerFacts): readonly CheckLacks[] {
  const cold: readonly CheckLacks[] = facts.packed.some(needsCold) ? ['temperature', 'ice'] : [];
  const asked: readonly CheckLacks[] = [...cold, 'place', ...(facts.seals.length > 0 ? (['seals'] as const) : [])];
  const lacks = checks.map(lacksOf);
  return asked.filter((what) => lacks.every((one) => one[what]));
}
