import type { ContainerRecord } from '../samples/sample-records.ts';
import type { ListWorld, SaidOf } from './list-world.ts';

/** What became of a bottle at the laboratory; undefined where nothing was said of it. */
export function standingAtLaboratory({ as }: SaidOf): string | undefined {
  if (as === undefined) return undefined;
  if (as.condition === 'missing') return 'not-received';
  return as.condition === 'ok' ? 'received' : `received-${as.condition}`;
}

/** How far a bottle has come: its standing in the field, then in its cooler, then what the laboratory says of it. */
export function standingOf(world: ListWorld, { fields }: ContainerRecord, said: SaidOf): string {
  const { standing, cooler } = fields;
  if (standing !== 'filled') return standing;
  const atLaboratory = standingAtLaboratory(said);
  if (atLaboratory !== undefined) return atLaboratory;
  if (cooler === undefined) return standing;
  if (world.relinquished.has(cooler)) return 'sent';
  return world.index.coolers.get(cooler)?.fields.packed === undefined ? standing : 'packed';
}
