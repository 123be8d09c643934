import type { Profiler } from 'node:inspector';

/** Where the processor was: in a function itself, and in it with all that it called. */
export interface FunctionTime {
  readonly name: string;
  readonly place: string;
  readonly selfMs: number;
  readonly totalMs: number;
}

type Node = Profiler.ProfileNode;

function keyOf({ callFrame }: Node): string {
  const { functionName, url, lineNumber } = callFrame;
  const file = url.replace(/^.*\/(?=(src|node_modules)\/)/, '');
  return `${functionName || '(anonymous)'}\t${file === '' ? '' : `${file}:${lineNumber + 1}`}`;
}

function selfTimes(profile: Profiler.Profile): Map<number, number> {
  const times = new Map<number, number>();
  for (const [index, id] of (profile.samples ?? []).entries()) {
    times.set(id, (times.get(id) ?? 0) + (profile.timeDeltas?.[index] ?? 0) / 1_000);
  }
  return times;
}

/** Adds up the functions of a profile; one that calls itself counts once. */
export function functionTimes(profile: Profiler.Profile): FunctionTime[] {
  const nodes = new Map(profile.nodes.map((node) => [node.id, node]));
  const times = selfTimes(profile);
  const [self, total] = [new Map<string, number>(), new Map<string, number>()];
  const walk = (node: Node, above: ReadonlySet<string>): number => {
    const key = keyOf(node);
    const inside = new Set(above).add(key);
    const children = (node.children ?? []).flatMap((id) => nodes.get(id) ?? []);
    const own = times.get(node.id) ?? 0;
    const all = children.reduce((sum, child) => sum + walk(child, inside), own);
    self.set(key, (self.get(key) ?? 0) + own);
    if (!above.has(key)) total.set(key, (total.get(key) ?? 0) + all);
    return all;
  };
  const [root] = profile.nodes;
  if (root) walk(root, new Set());
  return [...self].map(([key, selfMs]) => {
    const [name = '', place = ''] = key.split('\t');
    return { name, place, selfMs, totalMs: total.get(key) ?? selfMs };
  });
}
