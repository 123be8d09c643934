import { z } from 'zod';
import { analyteGroup } from '../../catalog/analytes/analyte-groups.ts';
import type { SuiteRecord } from '../samples/sample-records.ts';
import { holderOf, suiteAsking } from '../samples/samples-index.ts';
import { expectedTotals, totalsExpected } from './expected-totals.ts';
import type { ToldToLaboratory } from './laboratory-list.ts';
import { plannedBottles } from './planned-bottles.ts';
import { orderedSpike, spikesOrdered } from './spikes-ordered.ts';

const text = z.string().nullable();

export const ordersTold = z
  .strictObject({
    event: z.string(),
    site: text,
    laboratory: z.string(),
    starts: z.string(),
    ends: z.string(),
    suites: z.array(
      z.strictObject({
        suite: z.string(),
        turnaroundDays: z.int().nullable().describe('From receipt to the report'),
        groups: z.array(
          z.strictObject({ group: z.string(), title: z.string(), variant: text, filtered: z.boolean().nullable() }),
        ),
        analytes: z.array(z.strictObject({ name: z.string(), casNumber: text, reportingLimit: text, unit: text })),
      }),
    ),
    spikes: z
      .array(orderedSpike)
      .describe('By the plan; the list says of each bottle that came what is to be spiked out of it'),
    expected: expectedTotals,
  })
  .meta({ id: 'LaboratoryOrders', description: 'What is ordered of a laboratory in an event' });
export type OrdersTold = z.output<typeof ordersTold>;

/** The suites of which a bottle goes to this laboratory, by what was planned and by what is on its list. */
function suitesFor(told: ToldToLaboratory): readonly SuiteRecord[] {
  const { index } = told.world;
  const planned = plannedBottles(told).flatMap(({ bottle }) => index.suites.get(bottle.suite ?? '') ?? []);
  const listed = told.containers.flatMap(
    ({ container }) => suiteAsking(index, container, holderOf(index, container)) ?? [],
  );
  return [...new Set([...planned, ...listed])].toSorted((a, b) => (a.fields.name < b.fields.name ? -1 : 1));
}

function toldSuite(laboratory: string, { fields }: SuiteRecord): OrdersTold['suites'][number] {
  const groups = fields.groups.filter((one) => one.laboratory == null || one.laboratory === laboratory);
  return {
    suite: fields.name,
    turnaroundDays: fields.turnaroundDays ?? null,
    groups: groups.map(({ group, variant, filtered }) => ({
      group,
      title: analyteGroup(group)?.title ?? group,
      variant: variant ?? null,
      filtered: filtered ?? null,
    })),
    analytes: (fields.analytes ?? []).map(({ name, casNumber, reportingLimit, unit }) => ({
      name,
      casNumber: casNumber ?? null,
      reportingLimit: reportingLimit ?? null,
      unit: unit ?? null,
    })),
  };
}

/** Analyte lists, reporting limits and turnaround as ordered, with the totals that are to come. */
export function toldOrders(told: ToldToLaboratory): OrdersTold {
  const { event, site } = told.world.of;
  const { name, starts, ends } = event.fields;
  return {
    event: name,
    site: site?.fields.name ?? null,
    laboratory: told.world.index.laboratories.get(told.laboratory)?.fields.name ?? told.laboratory,
    starts,
    ends,
    suites: suitesFor(told).map((suite) => toldSuite(told.laboratory, suite)),
    spikes: [...spikesOrdered(told)],
    expected: totalsExpected(told),
  };
}
