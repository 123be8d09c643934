import type { EventSamples } from '../../samples/event-samples.ts';
import { laboratoryOf } from '../../samples/laboratory-of.ts';
import type { ReceivedAs } from '../../samples/received.ts';
import type { ContainerRecord } from '../../samples/sample-records.ts';
import type { SamplesIndex } from '../../samples/samples-index.ts';

interface Known {
  readonly of: EventSamples;
  readonly index: SamplesIndex;
  /** Whose report it is; null for the office. */
  readonly laboratory: string | null;
  readonly received: ReadonlyMap<string, ReceivedAs>;
}

/** Nothing of it can be analysed; of what leaked or was warm something can, with a qualifier. */
const LOST: Readonly<Partial<Record<ReceivedAs['condition'], string>>> = {
  missing: 'did not come',
  broken: 'came broken',
};

/** Whether an analyte may come out of a bottle: where its suite names analytes, one of them. */
function mayServe({ fields: { suite } }: ContainerRecord, analyte: string, { index }: Known): boolean {
  const analytes = suite === undefined ? [] : (index.suites.get(suite)?.fields.analytes ?? []);
  return analytes.length === 0 || analytes.some(({ name }) => name.toLowerCase() === analyte.toLowerCase());
}

/**
 * What is to be asked where no bottle that an analyte could come of was there whole, by the receipts of who reports it.
 * Null where nothing was said of one of them.
 */
export function bottleNote(holder: string, analyte: string, known: Known): string | null {
  const { of, index, laboratory, received } = known;
  const its = of.containers.filter((one) => {
    const isOf = one.fields.sample === holder || one.fields.blank === holder;
    const isIts = laboratory === null || laboratoryOf(index, one)?.id === laboratory;
    return isOf && isIts && one.fields.standing === 'filled' && mayServe(one, analyte, known);
  });
  const lost = its.flatMap(({ id, fields }) => {
    const said = LOST[received.get(id)?.condition ?? 'ok'];
    return said === undefined ? [] : [`${fields.label} ${said}`];
  });
  if (lost.length === 0 || lost.length < its.length) return null;
  return `by the receipt no bottle that it could come of was there: ${lost.toSorted().join(', ')}; correct the receipt, or compare the number of the sample with the report`;
}
