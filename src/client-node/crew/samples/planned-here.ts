import type { RecordState } from '../../../protocol/record.ts';
import { field, live } from '../find.ts';
import type { Crew } from '../open-crew.ts';

export async function plannedOf(crew: Crew, event: string): Promise<RecordState[]> {
  return (await live(crew, 'planned-sample')).filter((one) => field(one, 'event') === event);
}

export function isNumbered(one: RecordState, number: string): boolean {
  return field(one, 'number').toLowerCase() === number.toLowerCase();
}

/** The planned sample that a sample is: the one that it names, or that has its number. */
export function planOf(sample: RecordState, planned: readonly RecordState[]): RecordState | undefined {
  const named = field(sample, 'planned');
  return planned.find((one) => (named === '' ? isNumbered(one, field(sample, 'number')) : one.id === named));
}

export async function samplesAt(crew: Crew, visit: string): Promise<RecordState[]> {
  return (await live(crew, 'sample')).filter((one) => field(one, 'visit') === visit);
}
