import { z } from 'zod';
import { CONTAINER_KINDS } from '../../catalog/analytes/analyte-group.ts';
import { ANALYTE_GROUPS, analyteGroup } from '../../catalog/analytes/analyte-groups.ts';
import { holdingVariant } from '../../catalog/analytes/holding-of.ts';
import { isCasNumber } from '../../science/samples/cas-number.ts';
import { defineKind, maybe, OFFICE } from '../kind.ts';
import { decimal, id, LONG_TEXT, text } from '../primitives.ts';
import { containerParts } from './container.ts';

const positive = decimal.refine((value) => Number(value) > 0, { error: 'must be above zero' });

/** What a project asks for otherwise than the catalog; then it says why, and who approved it. */
const OTHERWISE = [
  'containers',
  'container',
  ...(Object.keys(containerParts) as (keyof typeof containerParts)[]),
  'volumeMl',
  'holdingHours',
  'extractionHours',
  'extractToAnalysisHours',
] as const;

const suiteGroup = z
  .strictObject({
    group: text(64)
      .refine((group) => analyteGroup(group) !== undefined, {
        error: `is no group of analytes of the catalog; give one of: ${ANALYTE_GROUPS.map((one) => one.id).join(', ')}`,
      })
      .describe('Id of a group of analytes of the catalog'),
    variant: maybe(text(64)).describe('Id of one of its holding times. Default: the one for how a container was kept'),
    laboratory: maybe(id).describe('Where it goes. Default: where the suite goes by the plan of the event'),
    filtered: maybe(z.boolean()).describe('Whether it is filtered in the field. Default: as the group says'),
    containers: maybe(z.int().min(1).max(50)).describe('How many for one sample'),
    container: maybe(z.enum(CONTAINER_KINDS)),
    ...containerParts,
    volumeMl: maybe(positive).describe('Of each container'),
    holdingHours: maybe(positive).describe('From collection to analysis'),
    extractionHours: maybe(positive).describe('From collection to extraction'),
    extractToAnalysisHours: maybe(positive).describe('From extraction to analysis'),
    reason: maybe(text(LONG_TEXT)).describe('Why the project asks for it otherwise than the catalog'),
    approvedBy: maybe(text()).describe('Who approved that'),
  })
  .refine(({ group, variant }) => variant == null || isHolding(group, variant), {
    error: 'is no holding time of its group: give an id that the catalog lists there, or none',
    path: ['variant'],
  })
  .refine((one) => OTHERWISE.every((field) => one[field] == null) || (one.reason != null && one.approvedBy != null), {
    error: `asks for something otherwise than the catalog (${OTHERWISE.join(', ')}): give reason and approvedBy`,
    path: ['reason'],
  });
export type SuiteGroup = z.output<typeof suiteGroup>;

function isHolding(group: string, variant: string): boolean {
  const known = analyteGroup(group);
  return known === undefined || holdingVariant(known, variant) !== undefined;
}

const casNumber = text(64).refine(isCasNumber, {
  error: 'has the form or the check digit of no CAS Registry Number: compare it with the order; benzene is 71-43-2',
});

const analyte = z.strictObject({
  casNumber: maybe(casNumber).describe('CAS Registry Number'),
  name: text(),
  reportingLimit: maybe(decimal).describe('As ordered'),
  unit: maybe(text(64)).describe('Of the reporting limit, as the order writes it'),
});

export const analyteSuite = defineKind({
  name: 'analyte-suite',
  plural: 'analyte-suites',
  family: 'fact',
  description:
    'What a name among the suites of a sample stands for: groups of analytes with their containers and clocks.',
  home: { in: 'firm' },
  references: {},
  writers: OFFICE,
  fields: {
    name: text(64).describe('By which samples, blanks, assignments and plans name it'),
    groups: z.array(suiteGroup).min(1).max(40),
    analytes: maybe(z.array(analyte).max(1_000)).describe('What is ordered, with its reporting limits'),
    turnaroundDays: maybe(z.int().min(0).max(365)).describe('From receipt to the report'),
    priority: maybe(z.int().min(1).max(100)).describe(
      'Where water is short, 1 is filled before 2. Default: in the priority of its groups in the catalog',
    ),
    remark: maybe(text(LONG_TEXT)),
  },
});
