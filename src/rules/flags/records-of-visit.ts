import type { RecordState } from '../../protocol/record.ts';
import type { VisitBundle } from '../visit-bundle.ts';

export type VisitRecord = Pick<RecordState, 'id' | 'afterAssignment' | 'carriedBy'>;

/** Everything that a crew records on a visit, the visit among it. */
export function recordsOfVisit({
  visit,
  levels,
  soundings,
  setUps,
  samples,
  uses,
  purges,
}: VisitBundle): readonly VisitRecord[] {
  const inPurges = purges.flatMap(({ purge, readings, occurrences, calls }) => [
    purge,
    ...readings,
    ...occurrences,
    ...calls,
  ]);
  return [visit, ...levels, ...soundings, ...setUps, ...samples, ...uses, ...inPurges];
}
