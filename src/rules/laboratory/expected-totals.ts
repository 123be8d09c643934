import { z } from 'zod';
import { laboratoryOf } from '../samples/laboratory-of.ts';
import { type ContainerRecord, holderOf, suiteAsking } from '../samples/samples-index.ts';
import { analyses, containerType, preservative } from './container-words.ts';
import type { ToldToLaboratory } from './laboratory-list.ts';

export const expectedTotals = z
  .strictObject({
    samples: z.int().min(0).describe('Samples and blanks planned for it'),
    containers: z.int().min(0),
    byContainer: z.array(
      z.strictObject({
        analyses: z.array(z.string()),
        containerType: z.string(),
        volumeMl: z.string(),
        preservative: z.string().nullable(),
        containers: z.int().min(1),
      }),
    ),
  })
  .meta({
    id: 'ExpectedAtLaboratory',
    description: 'What the office has planned for the laboratory; how far the crews have come does not change it',
  });
export type ExpectedTotals = z.output<typeof expectedTotals>;
type Line = Omit<ExpectedTotals['byContainer'][number], 'containers'>;

function planned({ laboratory, world: { index } }: ToldToLaboratory): readonly ContainerRecord[] {
  return index.of.containers.filter((container) => {
    const { planned: named, standing } = container.fields;
    if (named === undefined || standing === 'discarded') return false;
    if (index.planned.get(named)?.fields.standing !== 'planned') return false;
    return laboratoryOf(index, container)?.id === laboratory;
  });
}

/**
 * What is expected before coolers are packed: totals alone. They come from what the office planned and not from what crews
 * do: a total that rose while somebody filled a blind duplicate would say at which well that was.
 */
export function totalsExpected(told: ToldToLaboratory): ExpectedTotals {
  const { index } = told.world;
  const lines = new Map<string, { readonly line: Line; containers: number }>();
  const containers = planned(told);
  for (const container of containers) {
    const line = {
      analyses: [...analyses(container, suiteAsking(index, container, holderOf(index, container)))],
      containerType: containerType(container),
      volumeMl: container.fields.volumeMl,
      preservative: preservative(container) ?? null,
    };
    const key = JSON.stringify(Object.values(line));
    const its = lines.get(key) ?? { line, containers: 0 };
    its.containers += 1;
    lines.set(key, its);
  }
  return {
    samples: new Set(containers.map(({ fields }) => fields.planned)).size,
    containers: containers.length,
    byContainer: [...lines]
      .toSorted(([a], [b]) => (a < b ? -1 : 1))
      .map(([, { line, containers: count }]) => ({ ...line, containers: count })),
  };
}
