import type { EquipmentPlanFields } from '../../protocol/equipment-plan.ts';

type Lasting<Value> = Value extends readonly (infer Item)[] ? readonly Item[] : Value;

/** What the plan of an event asks of equipment. */
export type EquipmentPlan = { readonly [Key in keyof EquipmentPlanFields]: Lasting<EquipmentPlanFields[Key]> };
