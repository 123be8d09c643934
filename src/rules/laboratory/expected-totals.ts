import { z } from 'zod';
import { bottleAnalyses, bottlePreservative, bottleType } from './container-words.ts';
import type { ToldToLaboratory } from './laboratory-list.ts';
import { plannedBottles } from './planned-bottles.ts';

export const expectedTotals = z
  .strictObject({
    samples: z.int().min(0).describe('Samples and blanks planned for it'),
    containers: z.int().min(0),
    byContainer: z.array(
      z.strictObject({
        analyses: z.array(z.string()),
        containerType: z.string(),
        volumeMl: z.string(),
        preservative: z.string(),
        containers: z.int().min(1),
      }),
    ),
  })
  .meta({
    id: 'ExpectedAtLaboratory',
    description: 'What the office has planned for the laboratory; how far the crews have come does not change it',
  });
export type ExpectedTotals = z.output<typeof expectedTotals>;
type Line = ExpectedTotals['byContainer'][number];

/** What is expected before coolers are packed: totals alone. */
export function totalsExpected(told: ToldToLaboratory): ExpectedTotals {
  const lines = new Map<string, Line>();
  const all = plannedBottles(told);
  for (const { bottle } of all) {
    const line = {
      analyses: [...bottleAnalyses(bottle)],
      containerType: bottleType(bottle),
      volumeMl: String(bottle.volumeMl),
      preservative: bottlePreservative(bottle),
    };
    const key = JSON.stringify(Object.values(line));
    lines.set(key, { ...line, containers: (lines.get(key)?.containers ?? 0) + 1 });
  }
  return {
    samples: new Set(all.map(({ planned }) => planned)).size,
    containers: all.length,
    byContainer: [...lines].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([, line]) => line),
  };
}
