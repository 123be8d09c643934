import { PUBLICATIONS, type Publication } from './publications.ts';

/** What is measured at the well, as no bottle keeps it long enough. */
export interface FieldMeasurement extends Publication {
  readonly id: string;
  readonly title: string;
  readonly where: 'flow-cell' | 'open-cup';
  readonly written: string;
  readonly withinMinutes: number;
}

const quarterHour = { written: '15 min', withinMinutes: 15 } as const;

export const FIELD_MEASUREMENTS: readonly FieldMeasurement[] = [
  { ...PUBLICATIONS.tableII2014, ...quarterHour, id: 'ph', title: 'pH', where: 'flow-cell' },
  {
    ...PUBLICATIONS.tableIIRecalled,
    ...quarterHour,
    id: 'dissolved-oxygen',
    title: 'Dissolved oxygen by probe',
    where: 'flow-cell',
  },
  { ...PUBLICATIONS.tableIIRecalled, ...quarterHour, id: 'temperature', title: 'Temperature', where: 'flow-cell' },
  {
    ...PUBLICATIONS.tableII2014,
    ...quarterHour,
    id: 'residual-chlorine',
    title: 'Residual chlorine',
    where: 'open-cup',
  },
  { ...PUBLICATIONS.tableIIRecalled, ...quarterHour, id: 'sulfite', title: 'Sulfite', where: 'open-cup' },
];
