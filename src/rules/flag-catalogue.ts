import { z } from 'zod';
import { ADDRESSEES, SEVERITIES } from '../protocol/kinds/flag.ts';
import { visit } from '../protocol/kinds/visit.ts';
import { CUSTODY_FLAG_RULES } from './custody/custody-findings.ts';
import { EQUIPMENT_RULES } from './equipment/faults.ts';
import { DEVICE_CLOCK_RULE } from './flags/device-clock-flag.ts';
import type { FlagRuleEntry } from './flags/flag-rule.ts';
import { FLAG_RULES } from './flags/flag-rules.ts';
import { SAMPLE_NUMBER_RULE } from './flags/sample-number-twice.ts';
import { SECOND_PURGE_RULE } from './flags/second-purge-rule.ts';
import { KIT_RULES } from './kit/kit-rules.ts';
import { LABEL_RULE } from './samples/fill-rules/label-twice.ts';
import { SAMPLE_RULES } from './samples/fill-rules/sample-rules.ts';

export const RULE_SUBJECTS = ['visit', 'event', 'equipment', 'kit', 'device', 'sample', 'cooler'] as const;

/** What anybody may know of a rule by which something is asked. */
export const flagRuleOutput = z.strictObject({
  code: z.string(),
  title: z.string(),
  about: z
    .enum(RULE_SUBJECTS)
    .describe(
      'What was recorded at a visit, the samples of an event together, units and their parts, the kit of a morning, the clock of a device, samples and their containers, or coolers and what a laboratory found in them',
    ),
  severity: z.enum(SEVERITIES),
  addressee: z.enum(ADDRESSEES).describe('now at the well, tonight at the truck, or the office'),
  methods: z
    .array(visit.fields.shape.method)
    .nullable()
    .describe('Of visits to which it applies; null where it is about no single visit'),
  source: z.string(),
  verified: z.boolean().describe('The source was read, or it is plain arithmetic of the records'),
  vectors: z.int().min(0).describe('Cases with their outcome that are replayed by a test'),
});
export type FlagRuleTold = z.output<typeof flagRuleOutput>;
type Subject = FlagRuleTold['about'];

interface Rule extends FlagRuleEntry {
  readonly vectors?: readonly unknown[];
  readonly methods?: Readonly<FlagRuleTold['methods']>;
}

function told(about: Subject, rule: Rule): FlagRuleTold {
  const { code, title, severity, addressee, source, verified, methods, vectors } = rule;
  const its = methods ? [...methods] : null;
  return { code, title, about, severity, addressee, methods: its, source, verified, vectors: vectors?.length ?? 0 };
}

/** Every rule by which something is asked: of a visit, of an event, of equipment, of the kit of a morning, of a clock, of samples, of coolers. */
export const EVERY_RULE: readonly FlagRuleTold[] = [
  ...FLAG_RULES.map((rule) => told('visit', { ...rule, methods: [...rule.methods] })),
  told('visit', { ...SECOND_PURGE_RULE, methods: [...SECOND_PURGE_RULE.methods] }),
  told('event', SAMPLE_NUMBER_RULE),
  ...EQUIPMENT_RULES.map((rule) => told('equipment', rule)),
  ...KIT_RULES.map((rule) => told('kit', rule)),
  told('device', DEVICE_CLOCK_RULE),
  ...SAMPLE_RULES.map((rule) => told('sample', rule)),
  told('sample', LABEL_RULE),
  ...CUSTODY_FLAG_RULES.map((rule) => told('cooler', rule)),
];
