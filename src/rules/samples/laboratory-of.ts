import {
  type ContainerRecord,
  holderOf,
  type LaboratoryRecord,
  type SamplesIndex,
  suiteAsking,
} from './samples-index.ts';

/** Where a suite goes by the plan of the event. */
function bySuite({ of }: SamplesIndex, suite: string | undefined): string | undefined {
  return of.event.fields.plan.sampling?.laboratoryOf?.find((one) => one.suite === suite)?.laboratory;
}

/**
 * The laboratory that a container goes to: where its cooler goes, else as its sample says, as was planned for it, as the
 * suite has it for its group, as the plan has it for the suite, else the only one of the firm. Undefined where none of
 * these tells one.
 */
export function laboratoryOf(index: SamplesIndex, container: ContainerRecord): LaboratoryRecord | undefined {
  const holder = holderOf(index, container);
  const { group, cooler } = container.fields;
  const suite = suiteAsking(index, container, holder);
  const named =
    (cooler === undefined ? undefined : index.coolers.get(cooler)?.fields.laboratory) ??
    holder.sample?.fields.laboratory ??
    holder.blank?.fields.laboratory ??
    holder.planned?.fields.laboratory ??
    suite?.fields.groups.find((one) => one.group === group)?.laboratory ??
    bySuite(index, suite?.fields.name ?? container.fields.suite);
  if (named != null) return index.laboratories.get(named);
  return index.laboratories.size === 1 ? index.of.laboratories[0] : undefined;
}
