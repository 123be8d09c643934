import type { ProposedContainer, ProposedSample } from './proposed.ts';

/** What is ordered of one laboratory: containers that are alike. */
export interface BottleLine {
  readonly laboratory: string | null;
  readonly type: 'vial' | 'bottle';
  readonly material: string | null;
  readonly colour: string | null;
  readonly preservatives: readonly string[] | null;
  readonly volumeMl: string;
  /** Groups that such a container serves. */
  readonly groups: readonly string[];
  /** All that are planned, filled ones too. */
  readonly count: number;
  readonly filled: number;
  /** On top of the count. */
  readonly spare: number;
}

/** One in ten, at least one, for what breaks and for vials with a bubble. Common practice, no source. */
const SPARE_ONE_IN = 10;
export const SPARE_RULE = `One spare for each ${SPARE_ONE_IN} of a line or part of them (common practice, no source).`;

export function isOrdered({ standing }: Pick<ProposedContainer, 'standing'>): boolean {
  return standing === 'expected' || standing === 'filled';
}

function keyOf({ laboratory, type, material, colour, preservatives, volumeMl }: ProposedContainer): string {
  return JSON.stringify([laboratory, type, material, colour, preservatives?.toSorted() ?? null, Number(volumeMl)]);
}

function lineOf(containers: readonly ProposedContainer[]): BottleLine[] {
  const [first] = containers;
  if (!first) return [];
  const { laboratory, type, material, colour, preservatives, volumeMl } = first;
  const groups = new Set(containers.flatMap(({ group, alsoGroups }) => [group, ...alsoGroups]));
  const filled = containers.filter(({ standing }) => standing === 'filled').length;
  const spare = Math.ceil(containers.length / SPARE_ONE_IN);
  const count = containers.length;
  return [
    {
      laboratory,
      type,
      material,
      colour,
      preservatives,
      volumeMl,
      groups: [...groups].toSorted(),
      count,
      filled,
      spare,
    },
  ];
}

/** The bottles of a plan as each laboratory has to send them: by container, preservative and volume. */
export function bottleOrder(samples: readonly ProposedSample[]): readonly BottleLine[] {
  const lines = new Map<string, ProposedContainer[]>();
  for (const container of samples.flatMap(({ containers }) => containers).filter(isOrdered)) {
    const its = lines.get(keyOf(container));
    if (its) its.push(container);
    else lines.set(keyOf(container), [container]);
  }
  return [...lines].toSorted(([a], [b]) => (a < b ? -1 : 1)).flatMap(([, containers]) => lineOf(containers));
}
