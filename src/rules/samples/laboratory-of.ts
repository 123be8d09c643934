import type { ContainerRecord, LaboratoryRecord } from './sample-records.ts';
import { type Holder, holderOf, type SamplesIndex, suiteAsking } from './samples-index.ts';

/** What says where the containers of a holder go. */
export interface Known extends Pick<SamplesIndex, 'suites'> {
  readonly of: Pick<SamplesIndex['of'], 'event'>;
}

/** Where a suite goes by the plan of the event. */
function bySuite({ of }: Known, suite: string | undefined): string | undefined {
  return of.event.fields.plan.sampling?.laboratoryOf?.find((one) => one.suite === suite)?.laboratory;
}

/**
 * The id of the laboratory that a container is for, whatever it is packed in: as its sample says, as was planned for it, as
 * the suite has it for its group, or as the plan has it for the suite. Undefined where none of these tells one.
 */
export function laboratoryFor(known: Known, container: ContainerRecord, holder: Holder): string | undefined {
  const suite = suiteAsking(known, container, holder);
  return (
    holder.sample?.fields.laboratory ??
    holder.blank?.fields.laboratory ??
    holder.planned?.fields.laboratory ??
    suite?.fields.groups.find((one) => one.group === container.fields.group)?.laboratory ??
    bySuite(known, suite?.fields.name ?? container.fields.suite)
  );
}

/** The same, where all of the event is at hand. */
export function namedLaboratory(index: SamplesIndex, container: ContainerRecord): string | undefined {
  return laboratoryFor(index, container, holderOf(index, container));
}

/**
 * The laboratory that a container goes to: where its cooler goes, else as its sample says, as was planned for it, as the
 * suite has it for its group, as the plan has it for the suite, else the only one of the firm. Undefined where none of
 * these tells one.
 */
export function laboratoryOf(index: SamplesIndex, container: ContainerRecord): LaboratoryRecord | undefined {
  const { cooler } = container.fields;
  const named =
    (cooler === undefined ? undefined : index.coolers.get(cooler)?.fields.laboratory) ??
    namedLaboratory(index, container);
  if (named != null) return index.laboratories.get(named);
  return index.laboratories.size === 1 ? index.of.laboratories[0] : undefined;
}
