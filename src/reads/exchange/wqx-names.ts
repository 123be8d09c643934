import type { WqxAsked } from './wqx-asked.ts';
import type { WqxWorld } from './wqx-world.ts';

/** By what the other side tells things apart. */
export interface WqxNames {
  readonly organization: string;
  readonly project: string;
  /** Undefined for a well that is not among the records of the site. */
  readonly well: (id: string) => string | undefined;
  readonly sample: (one: { readonly id: string; readonly fields: { readonly number: string } }) => string;
}

/** An id has 36 characters with its hyphens, and the exchange takes 35 of an organization. */
export function wqxNames({ index }: WqxWorld, asked: WqxAsked, firm: string): WqxNames {
  const byName = asked.identifiers === 'names';
  return {
    organization: asked.organization ?? firm.replaceAll('-', ''),
    project: asked.project ?? index.of.event.id,
    well: (id) => (byName ? index.wells.get(id)?.fields.name : index.wells.get(id)?.id),
    sample: ({ id, fields }) => (byName ? fields.number : id),
  };
}
