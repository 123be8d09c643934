import { z } from 'zod';
import { ADDRESSEES, SEVERITIES } from '../../protocol/kinds/flag.ts';
import { date, id } from '../../protocol/primitives.ts';
import { wellsToDo } from './kit-needs.ts';
import type { KitRecords } from './kit-records.ts';
import { kitFindings } from './kit-rules.ts';
import { kitStanding } from './kit-standing.ts';

export const kitInput = z.strictObject({
  crew: id.optional().describe('Whose kit. Default: the crew of the device that asks'),
  day: date.optional().describe('Where the site is. Default: the first day of the event that is not over'),
});
export type KitGiven = z.output<typeof kitInput>;

const text = z.string().nullable();
const count = z.int().min(0).nullable();

export const kitOutput = z.strictObject({
  event: id,
  crew: id,
  day: date,
  site: text.describe('Its name'),
  accessNotes: text.describe('Gates, keys, traffic; the site safety plan decides'),
  wells: z
    .array(z.strictObject({ well: id, name: z.string(), suites: z.array(z.string()), remark: text }))
    .describe('Of the crew, that nobody left on a day before'),
  units: z.array(z.strictObject({ unit: id, label: z.string(), type: z.string() })).describe('Signed out to the crew'),
  check: id.nullable().describe('The last check of the kit on that day'),
  checkedAt: text.describe('As entered'),
  items: z.array(
    z.strictObject({
      item: z.string(),
      expected: count,
      why: text.describe('Null for what was looked at and is not asked for here'),
      source: text,
      standing: z.enum(['ok', 'short', 'missing', 'expired', 'not-looked-at']),
      found: count,
      lot: text,
      expires: text,
      remark: text,
    }),
  ),
  findings: z
    .array(
      z.strictObject({
        code: z.string(),
        severity: z.enum(SEVERITIES),
        addressee: z.enum(ADDRESSEES),
        sentence: z.string(),
        source: z.string(),
      }),
    )
    .describe('Of the rules about the kit. What the check itself says is stored as flags beside it too'),
});
export type KitTold = z.output<typeof kitOutput>;

/** What a crew needs for a day, what its check of the morning found, and what is to be asked about that. */
export function kitTold(records: KitRecords): KitTold {
  const { event, crew, day, site, units } = records;
  const kit = kitStanding(records);
  return {
    event,
    crew,
    day,
    site: site?.fields.name ?? null,
    accessNotes: site?.fields.accessNotes ?? null,
    wells: wellsToDo(records).map(({ well, suites }) => ({
      well: well.id,
      name: well.fields.name,
      suites: [...suites],
      remark: well.fields.remark ?? null,
    })),
    units: units.map(({ id: unit, fields: { label, type } }) => ({ unit, label, type })),
    check: kit.check?.id ?? null,
    checkedAt: kit.check?.fields.observed.at ?? null,
    items: kit.lines.map((line) => ({ ...line })),
    findings: kitFindings(kit).map((one) => ({ ...one })),
  };
}
