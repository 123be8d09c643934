import type { AssessmentInput } from '../../src/rules/assessment/assessment-input.ts';

type Input = AssessmentInput;
type Any = Input['readings'][number] | Input['occurrences'][number] | Input['calls'][number] | Input['levels'][number];
type Placeable = Any | Input['setUps'][number];

/** A record with its place on the axis, in milliseconds. */
export interface Placed<R> {
  readonly record: R;
  readonly at: number;
  /** Its number in the order of everything on the axis. */
  readonly order: number;
}

export interface Axis {
  readonly readings: readonly Placed<Input['readings'][number]>[];
  readonly occurrences: readonly Placed<Input['occurrences'][number]>[];
  readonly calls: readonly Placed<Input['calls'][number]>[];
  readonly levels: readonly Placed<Input['levels'][number]>[];
  readonly setUps: readonly Placed<Input['setUps'][number]>[];
}

const KIND_ORDER: Readonly<Record<string, number>> = {
  'water-level': 0,
  'pump-set-up': 0,
  occurrence: 1,
  reading: 2,
  call: 3,
};
const TEN_MINUTES = 600_000;

const seenAt = (record: Placeable) => Date.parse(record.fields.observed.at);
const byText = (a: string, b: string) => (a < b ? -1 : Number(a > b));

function lowerMedian(numbers: readonly number[]): number {
  const sorted = numbers.toSorted((a, b) => a - b);
  return sorted[Math.floor((numbers.length - 1) / 2)] ?? 0;
}

/** A7: what stands, and belongs here. */
function standing(input: Input): Placeable[] {
  const ofPurge = [...input.readings, ...input.occurrences, ...input.calls].filter(
    (record) => record.fields.purge === input.purge.id,
  );
  const ofVisit = [...input.levels, ...input.setUps].filter((record) => record.fields.visit === input.visit.id);
  return [...ofPurge, ...ofVisit].filter((record) => record.voided === null);
}

function once(records: readonly Placeable[]): Placeable[] {
  return [...new Map(records.map((record) => [record.id, record])).values()];
}

/** A5: a group of one boot of one client, laid out from its begin. */
function layOut(group: readonly Placeable[]): [Placeable, number][] {
  const clocks = group.flatMap((record) => (record.clock ? [{ record, clock: record.clock }] : []));
  const difference = lowerMedian(clocks.map(({ clock }) => clock.differenceMs));
  const begin =
    lowerMedian(clocks.map(({ record, clock }) => seenAt(record) - clock.monotonicMs)) +
    (Math.abs(difference) > TEN_MINUTES ? difference : 0);
  const inOrder = once(group).toSorted(
    (a, b) => (a.clock?.sequence ?? 0) - (b.clock?.sequence ?? 0) || byText(a.id, b.id),
  );
  let before = Number.NEGATIVE_INFINITY;
  return inOrder.map((record) => {
    before = Math.max(begin + (record.clock?.monotonicMs ?? 0), before + 1);
    return [record, before];
  });
}

function places(records: readonly Placeable[]): [Placeable, number][] {
  const isTimed = (record: Placeable) => record.fields.observed.captured === 'at-the-well' && record.clock !== null;
  const groups = new Map<string, Placeable[]>();
  for (const record of records.filter(isTimed)) {
    const key = `${record.client} ${record.clock?.boot}`;
    groups.set(key, [...(groups.get(key) ?? []), record]);
  }
  const untimed = once(records.filter((record) => !isTimed(record)));
  return [...[...groups.values()].flatMap(layOut), ...untimed.map((record) => [record, seenAt(record)] as const)].map(
    ([record, at]) => [record, at],
  );
}

/** Rule A5, from the prose: everything that stands, on one axis. */
export function axisOf(input: Input): Axis {
  const inOrder = places(standing(input)).toSorted(
    ([a, atA], [b, atB]) => atA - atB || (KIND_ORDER[a.kind] ?? 9) - (KIND_ORDER[b.kind] ?? 9) || byText(a.id, b.id),
  );
  const all = inOrder.map(([record, at], order) => ({ record, at, order }));
  const of = <R>(kind: string) => all.filter(({ record }) => record.kind === kind) as unknown as Placed<R>[];
  return {
    readings: of('reading'),
    occurrences: of('occurrence'),
    calls: of('call'),
    levels: of('water-level'),
    setUps: of('pump-set-up'),
  };
}
