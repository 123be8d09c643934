import type { Entry, IdOf } from './entry.ts';
import { ZONE } from './site.ts';

export const LABORATORY = 'Tern Laboratory';

const WEEKDAYS = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday'] as const;

/** What the names on the assignments stand for. Analytes, limits and days are invented, as the firm is. */
const SUITES = [
  {
    name: 'VOC',
    groups: [{ group: 'volatiles' }],
    analytes: [
      { casNumber: '127-18-4', name: 'Tetrachloroethene', reportingLimit: '0.5', unit: 'ug/L' },
      { casNumber: '79-01-6', name: 'Trichloroethene', reportingLimit: '0.5', unit: 'ug/L' },
      { casNumber: '75-01-4', name: 'Vinyl chloride', reportingLimit: '0.2', unit: 'ug/L' },
    ],
  },
  {
    name: 'metals',
    groups: [{ group: 'metals-dissolved' }],
    analytes: [
      { casNumber: '7440-38-2', name: 'Arsenic', reportingLimit: '1.0', unit: 'ug/L' },
      { casNumber: '7439-96-5', name: 'Manganese', reportingLimit: '5.0', unit: 'ug/L' },
    ],
  },
  {
    name: 'chloride and sulfate',
    groups: [{ group: 'chloride' }, { group: 'sulfate' }],
    analytes: [
      { casNumber: '16887-00-6', name: 'Chloride', reportingLimit: '1.0', unit: 'mg/L' },
      { casNumber: '14808-79-8', name: 'Sulfate', reportingLimit: '1.0', unit: 'mg/L' },
    ],
  },
  {
    name: 'PFAS',
    groups: [{ group: 'pfas-1633' }],
    analytes: [
      { casNumber: '335-67-1', name: 'Perfluorooctanoic acid', reportingLimit: '2.0', unit: 'ng/L' },
      { casNumber: '1763-23-1', name: 'Perfluorooctanesulfonic acid', reportingLimit: '2.0', unit: 'ng/L' },
    ],
  },
];

/** The laboratory that the firm sends to, and what is ordered of it. */
export function laboratoryEntries(id: IdOf): Entry[] {
  const receiving = WEEKDAYS.map((day) => ({ day, from: '09:00', until: '17:00' }));
  const set = { name: LABORATORY, timeZone: ZONE, receiving, handlingHours: '2' };
  return [
    { kind: 'laboratory', id: id('laboratory', LABORATORY), set },
    ...SUITES.map((suite) => {
      return { kind: 'analyte-suite', id: id('analyte-suite', suite.name), set: { ...suite, turnaroundDays: 10 } };
    }),
  ];
}
