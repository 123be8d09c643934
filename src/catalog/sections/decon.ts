import { type CatalogSection, catalogItem } from '../catalog-section.ts';
import { BLANK_RULES } from '../decon/blank-rules.ts';
import { DECON_FLUID_LIST } from '../decon/decon-fluids.ts';
import { DECON_HANDLING_RULES } from '../decon/decon-handling-rules.ts';
import { DECON_NOT_USABLE } from '../decon/decon-not-usable.ts';
import { DECON_PROTOCOLS } from '../decon/decon-protocols.ts';
import { DECON_WHEN_RULES } from '../decon/decon-when-rules.ts';

export const DECON_PROTOCOL_SECTION: CatalogSection = {
  name: 'decon-protocols',
  title: 'Protocols of decontamination',
  description:
    'By contaminant class and kind of gear, with the order of steps, fluids, new parts and waste. A protocol never changes, as records of the past cite it; the plan says which holds.',
  items: DECON_PROTOCOLS.map((protocol) => catalogItem(protocol, { name: protocol.title })),
};

export const DECON_FLUID_SECTION: CatalogSection = {
  name: 'decon-fluids',
  title: 'Fluids of decontamination',
  description: 'What protocols wash and rinse with, what may stand in for what, and what to mind.',
  items: DECON_FLUID_LIST.map((fluid) => catalogItem(fluid, { name: fluid.written })),
};

export const DECON_RULE_SECTION: CatalogSection = {
  name: 'decon-rules',
  title: 'When to decontaminate, and what belongs to it',
  description: 'Before and after which wells; label, wrapping, waste, deviations, weather; and what studies found.',
  items: [
    ...DECON_WHEN_RULES.map((rule) => catalogItem(rule, { id: `when-${rule.id}`, name: rule.wording })),
    ...Object.values(DECON_HANDLING_RULES).map((rule) => catalogItem(rule, { name: rule.wording })),
  ],
};

export const DECON_NOT_USABLE_SECTION: CatalogSection = {
  name: 'decon-not-usable',
  title: 'Documents on decontamination that are no protocol here',
  description: 'Documents whose steps were not recovered or are not for the field, each with the reason.',
  items: DECON_NOT_USABLE.map((one) => catalogItem(one, { name: one.document })),
};

export const BLANK_RULE_SECTION: CatalogSection = {
  name: 'blank-rules',
  title: 'How far above a blank a sample must be',
  description: 'By how many times a result must exceed what was found in a blank; the plan says which rule holds.',
  items: Object.values(BLANK_RULES).map((rule) => catalogItem(rule, { name: rule.title })),
};
