import { instantMs } from '../../science/instant-ms.ts';
import { deconCompleteness } from '../decon/completeness.ts';
import { byId, byKey, firstWhere, live } from './by-key.ts';
import type { DeconToJudge, JudgeDecon } from './decon-span.ts';
import type { EquipmentRecords, PartChangeRecord } from './equipment-records.ts';
import type { PlanOf } from './plans-of.ts';

interface Flat {
  readonly id: string;
}

function flat<Fields extends object>({ id, fields }: Flat & { readonly fields: Fields }): Flat & Fields {
  return { id, ...fields };
}

const atMs = ({ fields }: PartChangeRecord) => instantMs(fields.observed.at);

/**
 * Judges each decon by its protocol. Of the changes of parts only those matter that fall between its beginning and the
 * next well, and what was done with the same parts before.
 *
 * @param plans of the events, by which the lots of some parts are asked for
 */
export function judgeByProtocol(
  records: Pick<EquipmentRecords, 'parts' | 'partChanges' | 'visits'>,
  plans: PlanOf = () => ({}),
): JudgeDecon {
  const parts = byId(live(records.parts));
  const changes = live(records.partChanges).toSorted((a, b) => atMs(a) - atMs(b) || (a.id < b.id ? -1 : 1));
  const ofUnit = byKey(changes, ({ fields }) => fields.unit);
  const ofPart = byKey(changes, ({ fields }) => fields.part);
  const between = ({ decon, nextUse }: DeconToJudge): readonly PartChangeRecord[] => {
    const its = ofUnit.get(decon.fields.unit) ?? [];
    const [fromMs, end] = [instantMs(decon.fields.began), nextUse ?? decon.fields.ended];
    const first = firstWhere(its, (change) => atMs(change) >= fromMs);
    return its.slice(first, end ? firstWhere(its, (change) => atMs(change) > instantMs(end)) : its.length);
  };
  const visits = byId(live(records.visits));
  return (given) => {
    const { decon, steps, unit, nextUse, visitBefore } = given;
    const named = new Set([...between(given), ...steps].flatMap(({ fields }) => (fields.part ? [fields.part] : [])));
    return deconCompleteness({
      decon: flat(decon),
      unitType: unit?.fields.type ?? 'other',
      steps: steps.map((step) => ({ ...flat(step), reason: step.fields.deviation })),
      parts: [...named].flatMap((id) => {
        const part = parts.get(id);
        return part ? [flat(part)] : [];
      }),
      partChanges: [...named].flatMap((id) => (ofPart.get(id) ?? []).map(flat)),
      nextUse,
      lotsRequired: plans(decon.fields.event ?? visits.get(visitBefore ?? '')?.fields.event).partLotsRequired ?? [],
    });
  };
}
