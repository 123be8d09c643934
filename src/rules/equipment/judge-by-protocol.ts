import { instantMs } from '../../science/instant-ms.ts';
import { deconCompleteness } from '../decon/completeness.ts';
import { byId, byKey, firstWhere, live } from './by-key.ts';
import { changeByClock, deconByClock, stepByClock } from './decon-by-clock.ts';
import type { JudgeDecon } from './decon-span.ts';
import type { EquipmentRecords } from './equipment-records.ts';
import type { PlanOf } from './plans-of.ts';

type Change = ReturnType<typeof changeByClock>;

const atMs = ({ observed }: Change) => instantMs(observed.at);

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
  const changes = live(records.partChanges)
    .map(changeByClock)
    .toSorted((a, b) => atMs(a) - atMs(b) || (a.id < b.id ? -1 : 1));
  const ofUnit = byKey(changes, ({ unit }) => unit);
  const ofPart = byKey(changes, ({ part }) => part);
  const between = (
    { unit, began, ended }: ReturnType<typeof deconByClock>,
    nextUse: string | undefined,
  ): readonly Change[] => {
    const its = ofUnit.get(unit) ?? [];
    const [fromMs, end] = [instantMs(began), nextUse ?? ended];
    const first = firstWhere(its, (change) => atMs(change) >= fromMs);
    return its.slice(first, end ? firstWhere(its, (change) => atMs(change) > instantMs(end)) : its.length);
  };
  const visits = byId(live(records.visits));
  return ({ decon: record, steps, unit, nextUse, visitBefore }) => {
    const decon = deconByClock(record);
    const done = steps.map(stepByClock);
    const named = new Set([...between(decon, nextUse), ...done].flatMap(({ part }) => part ?? []));
    return deconCompleteness({
      decon,
      unitType: unit?.fields.type ?? 'other',
      steps: done,
      parts: [...named].flatMap((id) => {
        const part = parts.get(id);
        return part ? [{ id, ...part.fields }] : [];
      }),
      partChanges: [...named].flatMap((id) => ofPart.get(id) ?? []),
      nextUse,
      lotsRequired: plans(decon.event ?? visits.get(visitBefore ?? '')?.fields.event).partLotsRequired ?? [],
    });
  };
}
