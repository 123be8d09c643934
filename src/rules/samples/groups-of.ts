import type { ContainerRecord } from './sample-records.ts';

/** Every group of analytes that a bottle serves, the one that it is named by first. */
export function groupsOf({ fields: { group, alsoGroups } }: Pick<ContainerRecord, 'fields'>): readonly string[] {
  return [...new Set([group, ...(alsoGroups ?? [])])];
}
