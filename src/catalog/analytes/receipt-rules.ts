import { PUBLICATIONS } from './publications.ts';
import { figure, type WrittenRule } from './rule-figure.ts';

const tni = { source: 'TNI, Standard Interpretation 10009', dated: '2009-10', verified: true } as const;
const plan956133 = {
  source: 'a sampling plan, county file, doc 956133, page 112',
  dated: 'not told',
  verified: true,
} as const;

/** What a laboratory looks at when a cooler comes, and what it means. */
export const RECEIPT_RULES = {
  temperatureRecorded: {
    ...tni,
    id: 'temperature-recorded',
    wording:
      'The temperature at receipt is recorded, also where there is ice: without it the receipt is incomplete, and no sample has failed.',
  },
  warmOnSameDay: {
    ...tni,
    id: 'warm-on-same-day',
    wording:
      'Delivered on the day of collection with cooling begun, warmer than the limit is acceptable; the number is recorded all the same.',
  },
  notRounded: {
    ...PUBLICATIONS.tableII2014,
    id: 'not-rounded',
    wording:
      'At or below 6 °C; a reading is not rounded down to it. The limit was read in a copy, the wording is recalled.',
    figures: [figure('at-most', '6', '°C')],
  },
  notFrozen: {
    ...PUBLICATIONS.tableIIRecalled,
    id: 'not-frozen',
    wording: 'Not frozen, unless data show that freezing does no harm.',
    figures: [figure('not-below', '0', '°C')],
  },
  perContainer: {
    ...PUBLICATIONS.region1Page8,
    id: 'per-container',
    wording: 'What is warm is judged by container: acidified metals need no cooling.',
  },
  countsReconciled: {
    ...plan956133,
    id: 'counts-reconciled',
    wording: 'Containers are counted against the custody record of their cooler.',
  },
  conditionRecorded: {
    source: 'sampling plans, county file, doc 560087, page 47, and doc 604349, page 22',
    dated: 'not told',
    verified: true,
    id: 'condition-recorded',
    wording: 'Who received it, when, in what condition and how warm, and the number of the laboratory are recorded.',
  },
} as const satisfies Readonly<Record<string, WrittenRule>>;
