import { z } from 'zod';

const listed = (most: number) => z.string().min(1).max(most).optional();

/** What the exchange asks for and no record tells. */
export const wqxAsked = z.strictObject({
  organization: listed(35).describe('Identifier under which the exchange knows you. Default: the id of the firm'),
  project: listed(55).describe('Identifier of the project there. Default: the id of the event'),
  identifiers: z
    .enum(['ids', 'names'])
    .default('ids')
    .describe('What tells activities and wells apart: ids of records, or sample numbers and names of wells'),
  horizontalMethod: listed(150).describe('How the coordinates were got; without it wells are no part of the export'),
  horizontalDatum: listed(6).describe('Of the coordinates, such as NAD83; without it wells are no part of the export'),
  state: listed(2).describe('Code of the state'),
  county: listed(3).describe('Code of the county'),
  methodContext: listed(120).describe(
    'Whose methods the laboratory names, such as USEPA; without it results of samples are no part of the export',
  ),
  characteristics: z
    .string()
    .max(4_000)
    .regex(/^(?:[^=;]+=[^=;]+(?:;[^=;]+=[^=;]+)*;?)?$/, { error: 'is not such as 71-43-2=Benzene;Nitrate=Nitrate' })
    .default('')
    .describe(
      'Names of characteristics in the list of the exchange by CAS number or analyte, such as 71-43-2=Benzene;Lead=Lead. They are not guessed: a result without one is no part of the export',
    ),
  report: z
    .enum(['true', 'false'])
    .default('false')
    .describe('true: in place of the export, a list of what is not in it, with why'),
});
export type WqxAsked = z.output<typeof wqxAsked>;

export const wqxCsvAsked = wqxAsked.extend({
  table: z.enum(['results', 'locations']).default('results').describe('Activities with their results, or the wells'),
});

/** By CAS number or name of an analyte, in small letters. */
export function characteristicsOf({ characteristics }: WqxAsked): ReadonlyMap<string, string> {
  const pairs = characteristics.split(';').filter((pair) => pair.includes('='));
  return new Map(
    pairs.map((pair) => {
      const [of = '', name = ''] = pair.split('=');
      return [of.trim().toLowerCase(), name.trim()];
    }),
  );
}
