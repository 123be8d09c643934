import type { ContainerRecord, LaboratoryRecord } from './sample-records.ts';
import { holderOf, type SamplesIndex, suiteAsking } from './samples-index.ts';

/** Where a suite goes by the plan of the event. */
function bySuite({ of }: SamplesIndex, suite: string | undefined): string | undefined {
  return of.event.fields.plan.sampling?.laboratoryOf?.find((one) => one.suite === suite)?.laboratory;
}

/**
 * The id of the laboratory that a container is for, whatever it is packed in: as its sample says, as was planned for it, as
 * the suite has it for its group, or as the plan has it for the suite. Undefined where none of these tells one.
 */
export function namedLaboratory(index: SamplesIndex, container: ContainerRecord): string | undefined {
  const holder = holderOf(index, container);
  const suite = suiteAsking(index, container, holder);
  return (
    holder.sample?.fields.laboratory ??
    holder.blank?.fields.laboratory ??
    holder.planned?.fields.laboratory ??
    suite?.fields.groups.find((one) => one.group === container.fields.group)?.laboratory ??
    bySuite(index, suite?.fields.name ?? container.fields.suite)
  );
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
