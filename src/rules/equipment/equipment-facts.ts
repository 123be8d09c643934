import { DEFAULT_BLANK_RULE, judgeAgainstBlank } from '../decon/blank-limit.ts';
import { byId, live } from './by-key.ts';
import { closedDays, type IsDayClosed } from './closed-days.ts';
import type { JudgeDecon } from './decon-span.ts';
import { type EquipmentIndex, equipmentIndex } from './equipment-index.ts';
import type { EquipmentRecords } from './equipment-records.ts';
import type { EquipmentFacts } from './faults/equipment-rule.ts';
import { wellEntries } from './faults/well-entry.ts';
import { judgeByProtocol } from './judge-by-protocol.ts';
import { type SensorUse, sensorUses } from './meters/sensor-use.ts';
import { calibrationsOf, type PlanOf, plansOf } from './plans-of.ts';
import { type LevelOf, wellLevels } from './well-levels.ts';

/** What somebody knows better than the records say it: of a question that is asked with a clock, say. */
export interface KnownBetter {
  readonly isDayClosed?: IsDayClosed;
  readonly judgeDecon?: JudgeDecon;
  readonly levelOf?: LevelOf;
}

/** Of each meter that was read, what its checks say of each visit. */
function sensorsOf(index: EquipmentIndex, records: EquipmentRecords): ReadonlyMap<string, readonly SensorUse[]> {
  const askedOf = calibrationsOf(records);
  const askedAt = (visit: string) => askedOf(index.visits.get(visit)?.event);
  return new Map(
    [...index.usesOfMeter].map(([id, uses]) => {
      const checks = index.checksOfUnit.get(id) ?? [];
      return [id, sensorUses({ unit: index.units.get(id), uses, checks }, askedAt)];
    }),
  );
}

/** All that is asked of equipment, by its records alone: no clock, and no order of arrival. */
export function equipmentFacts(records: EquipmentRecords, better: KnownBetter = {}): EquipmentFacts {
  const plans = plansOf(records);
  const index = equipmentIndex(records, better.judgeDecon ?? judgeByProtocol(records, plans));
  const visits = byId(live(records.visits));
  const planOf: PlanOf = (visit) => plans(visits.get(visit ?? '')?.fields.event);
  return {
    index,
    entries: wellEntries(index),
    sensorUses: sensorsOf(index, records),
    planOf,
    isDayClosed: better.isDayClosed ?? closedDays(index, records),
    levelOf: better.levelOf ?? wellLevels(index),
    judgeOf: ({ fields: { event } }) => {
      const rule = plans(event).blankRule ?? DEFAULT_BLANK_RULE;
      return (sample, blank) => judgeAgainstBlank(blank, sample, rule);
    },
  };
}
