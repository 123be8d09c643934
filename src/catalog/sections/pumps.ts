import { type CatalogSection, catalogItem } from '../catalog-section.ts';
import { SUITE_GROUP_WORDS } from '../materials/suite-groups.ts';
import { WETTED_MATERIALS } from '../materials/wetted-materials.ts';
import { PRACTICAL_SUCTION_LIFT } from '../pumps/practical-suction-lift.ts';
import { PUMP_KIND_LIST } from '../pumps/pump-kinds.ts';
import { SET_UP_RULES } from '../pumps/set-up-rules.ts';

export const PUMP_SECTION: CatalogSection = {
  name: 'pump-kinds',
  title: 'Kinds of pumps',
  description: 'By type: how they lift, what goes down the casing, and what documents say of volatiles.',
  items: PUMP_KIND_LIST.map((kind) => catalogItem(kind, { name: kind.written, source: kind.forVolatiles.source })),
};

const RULE_NAMES: Readonly<Record<keyof typeof SET_UP_RULES, string>> = {
  suctionBelowFt: 'Lift below which suction is used, ft',
  allowancePsi: 'Drive pressure over the water column, psi',
  firstRefillS: 'First cycle: refill, s',
  firstDischargeS: 'First cycle: discharge, s',
  firstFlowMlPerMin: 'Flow that the first pressure roughly gives, mL/min',
  slowRefillBelowFt: 'Submergence below which a bladder fills slowly, ft',
};

export const SET_UP_SECTION: CatalogSection = {
  name: 'pump-set-up-rules',
  title: 'Figures of a pump set-up',
  description: "Defaults of a set-up, each with its unit in its name; the event's plan goes before each of them.",
  items: [
    ...Object.entries(SET_UP_RULES).map(([id, rule]) =>
      catalogItem(rule, { id, name: RULE_NAMES[id as keyof typeof SET_UP_RULES] }),
    ),
    catalogItem(PRACTICAL_SUCTION_LIFT, { id: 'practical-suction-lift', name: 'Practical suction lift by altitude' }),
  ],
};

export const MATERIAL_SECTION: CatalogSection = {
  name: 'materials',
  title: 'Materials for suites',
  description: 'What suits which group of analytes, with the words by which a material is known. A blank goes first.',
  items: WETTED_MATERIALS.map((material) => catalogItem(material, { id: material.name, name: material.written })),
};

const WORDS_SOURCE = 'names of analytes as in common use; numbers of methods from memory';

export const SUITE_SECTION: CatalogSection = {
  name: 'suite-groups',
  title: 'Groups of analytes',
  description: 'The words and numbers of methods by which a suite is known to belong to a group.',
  items: SUITE_GROUP_WORDS.map(({ group, words }) =>
    catalogItem({ words, source: WORDS_SOURCE, verified: false }, { id: group }),
  ),
};
