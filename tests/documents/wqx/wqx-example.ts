import type { WqxActivity, WqxFacts, WqxResult } from '../../../src/documents/wqx/wqx-facts.ts';

const method = { identifier: '8260D', context: 'USEPA', name: 'Volatile organic compounds' };

export const benzene: WqxResult = {
  id: 'benzene',
  of: { characteristic: 'Benzene', analyte: 'benzene' },
  value: '1.30',
  unit: 'µg/L',
  qualifiers: ['J'],
  fraction: 'Total',
  status: 'Final',
  valueType: 'Estimated',
  method,
  laboratory: 'Example Laboratory',
  analyzed: { at: '2026-05-12T18:00:00Z', timeZone: 'America/Chicago' },
  limits: [{ type: 'Laboratory Reporting Level', measure: { value: '1', unit: 'ug/L' } }],
};

export const reading: WqxResult = {
  id: 'orp',
  of: { quantity: 'orpMv' },
  value: '-112.5',
  status: 'Preliminary',
  valueType: 'Actual',
};

export const purge: WqxActivity = {
  identifier: 'FM-1',
  kind: 'field-measurement',
  projects: ['26-041'],
  well: 'GW-17',
  began: { at: '2026-05-07T14:20:00Z', timeZone: 'America/New_York' },
  results: [reading, { ...reading, id: 'sc', of: { quantity: 'specificConductanceUsPerCm' }, value: '512' }],
};

export const sample: WqxActivity = {
  identifier: 'S-1',
  kind: 'normal',
  projects: ['26-041', '26-042'],
  well: 'GW-17',
  began: { at: '2026-05-07T14:42:00Z', timeZone: 'America/New_York' },
  ended: { at: '2026-05-07T15:02:00Z', timeZone: 'America/New_York' },
  conductedBy: 'Example Field Services',
  collection: {
    method: { identifier: 'LF', context: 'EXAMPLE', name: 'Low-flow sampling' },
    equipment: 'Pump/Bladder',
  },
  container: { label: 'W26-113-01', type: 'Glass Vial w/ Septa', color: 'Amber', cooling: 'Wet Ice (4 deg C)' },
  results: [benzene],
};

export const exampleFacts: WqxFacts = {
  organization: { identifier: 'EXAMPLE', name: 'Example Field Services' },
  projects: [{ identifier: '26-041', name: 'Second quarter round' }],
  wells: [
    {
      identifier: 'GW-17',
      name: 'Well 17',
      latitude: '41.50120',
      longitude: '-81.69340',
      horizontalMethod: 'GPS-Unspecified',
      horizontalDatum: 'NAD83',
      stateCode: '39',
      wellType: 'Monitoring',
      aquiferType: 'UNCONFINED',
      wellDepth: { value: '61.6', unit: 'ft' },
    },
  ],
  activities: [purge, sample],
};
