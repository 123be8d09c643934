import { z } from 'zod';
import { FILL_ORDER_IDS, PFAS_PLACES } from '../catalog/analytes/fill-orders.ts';
import { maybe } from './kind.ts';
import { decimal, id, text } from './primitives.ts';

const positive = decimal.refine((value) => Number(value) > 0, { error: 'must be above zero' });
const notNegative = decimal.refine((value) => Number(value) >= 0, { error: 'must not be below zero' });
const suites = z.array(text(64)).max(40);
const oneForEach = z.int().min(1).max(1_000);

const wellPlan = z.strictObject({
  well: id,
  suites: maybe(suites).describe('In place of those for every well'),
  filtered: maybe(z.boolean()).describe('Whether what may be filtered is. Default: as each suite says'),
  splitWith: maybe(id).describe('Laboratory of the other party that gets a split of each sample. Default: none'),
});

/** What a round asks of its samples. Every option may be missing; its default stands in its description. */
export const samplingPlan = z.strictObject({
  fillOrder: maybe(z.enum(FILL_ORDER_IDS)).describe(
    'In which order the bottles of a well are filled. Default: epa-1992 (US EPA, RCRA Ground-Water Monitoring, Nov 1992)',
  ),
  pfas: maybe(z.enum(PFAS_PLACES)).describe(
    'Where PFAS come, which no list of the others names. Default: first (state guides on PFAS, from memory)',
  ),
  suites: maybe(suites).describe('Analyte suites for every well. Default: those of the assignments'),
  wells: maybe(z.array(wellPlan).max(2_000)).describe('Wells that have something of their own. Default: none'),
  duplicatesPer: maybe(oneForEach).describe(
    'One field duplicate for so many samples or part of them. Default: 10 (a sampling plan, county file, doc 932734, page 226)',
  ),
  blindDuplicates: maybe(z.boolean()).describe(
    'Whether the laboratory is not to know them. Default: true (the same plan)',
  ),
  msMsdPer: maybe(oneForEach).describe(
    'One matrix spike with its duplicate for so many samples. Default: 20 (US EPA Region 9, county file, doc 605711, page 268)',
  ),
  fieldBlanksPer: maybe(z.enum(['event', 'day', 'none'])).describe(
    'How often a field blank is taken. Default: each day with volatiles (a sampling plan, county file, doc 567537, page 35), for PFAS one an event (California State Water Resources Control Board, guide on PFAS sampling, 2019)',
  ),
  tripBlankSuites: maybe(suites).describe(
    'Suites that a trip blank goes along with, one a cooler. Default: those with volatiles (a sampling plan, county file, doc 932734, page 226)',
  ),
  temperatureBlankPerCooler: maybe(z.boolean()).describe(
    'Default: true (procedures of the regions of US EPA, from memory)',
  ),
  sampleWithinHours: maybe(
    z.strictObject({
      lowFlow: maybe(positive).describe(
        'After the purge. Default: 2 (US EPA, RCRA Ground-Water Monitoring, Nov 1992, p. 7-19)',
      ),
      dryWell: maybe(positive).describe(
        'After the well was pumped dry. Default: 24 (sampling plans, county file, doc 600417, page 52, and doc 453809, page 12)',
      ),
    }),
  ).describe('How long after the purge a sample may be taken'),
  fillRateMlPerMin: maybe(
    z.strictObject({
      volatiles: maybe(positive).describe(
        'Default: 100, and less (US EPA, RCRA Ground-Water Monitoring, Nov 1992, p. 7-19)',
      ),
      bottles: maybe(positive).describe(
        'From 250 mL on. Default: 500 (US Geological Survey, National Field Manual, 4.2)',
      ),
    }),
  ).describe('How fast a container may be filled, at most'),
  transitHours: maybe(notNegative).describe(
    'From hand-over to the laboratory. Default: 24 (common practice, no source)',
  ),
  laboratoryOf: maybe(z.array(z.strictObject({ suite: text(64), laboratory: id })).max(200)).describe(
    'Which laboratory a suite goes to. Default: by its groups; the only one of the firm where it has one',
  ),
});
export type SamplingPlan = z.output<typeof samplingPlan>;
