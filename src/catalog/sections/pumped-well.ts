import { type CatalogSection, catalogItem } from '../catalog-section.ts';
import { DRAWDOWN_RULES } from '../well/drawdown-rules.ts';
import { LOW_YIELD_STEPS } from '../well/low-yield-steps.ts';
import { PUMPING_RATE_RULES } from '../well/pumping-rate-rules.ts';

export const DRAWDOWN_RULE_SECTION: CatalogSection = {
  name: 'drawdown-rules',
  title: 'What is asked of the level while pumping',
  description: 'Published rules side by side, each in the unit of its document; the plan says which of them holds.',
  items: DRAWDOWN_RULES.map((rule) => catalogItem(rule, { name: rule.wording })),
};

export const PUMPING_RATE_SECTION: CatalogSection = {
  name: 'pumping-rates',
  title: 'Rates of pumping and of filling bottles, mL/min',
  description: 'Published rates side by side; the plan says which of them holds.',
  items: PUMPING_RATE_RULES.map((rule) => catalogItem(rule, { name: rule.wording })),
};

export const LOW_YIELD_SECTION: CatalogSection = {
  name: 'low-yield-steps',
  title: 'At a well that gives little water',
  description: 'What documents say to do and not to do where a well is pumped dry or its drawdown keeps growing.',
  items: LOW_YIELD_STEPS.map((step) => catalogItem(step, { name: step.wording })),
};
