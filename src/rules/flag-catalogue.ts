import { EQUIPMENT_RULES } from './equipment/faults.ts';
import type { FlagRuleEntry } from './flags/flag-rule.ts';
import { FLAG_CATALOGUE } from './flags/flag-rules.ts';
import { KIT_RULES } from './kit/kit-rules.ts';

/** Every rule by which something is asked: of a visit, of a clock, of equipment, and of the kit of a morning. */
export const EVERY_RULE: readonly FlagRuleEntry[] = [...FLAG_CATALOGUE, ...EQUIPMENT_RULES, ...KIT_RULES];
