import { shownBy } from './run-seed.ts';
import type { World } from './world.ts';

const INSTANT = /\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)/g;

const OF_TIMES = ['flag', 'visit-summary', 'unit-state'];

function withoutTime(value: unknown): string {
  return JSON.stringify(value ?? null).replaceAll(INSTANT, 'an instant');
}

/**
 * What was decided in a world, without the times that people read off their devices: what became of every change, every
 * value shown and kept, every assessment. Flags, summaries and states of units tell of times as entered, and are not
 * compared.
 */
export function timelessOf(world: World): string[] {
  const told = world.history
    .all()
    .map(({ key, told: said }) => `${key} ${said?.outcome} ${said?.rev} ${said?.conflicts}`);
  const records = [...shownBy(world).values()]
    .filter(({ kind }) => !OF_TIMES.includes(kind))
    .map(
      ({ kind, id, rev, voided, fields }) =>
        `${kind} ${id} ${kind === 'assessment' ? '' : rev} ${withoutTime({ voided, fields })}`,
    );
  return [...told, ...records.sort()];
}
