import type { VisitBundle } from '../../visit-bundle.ts';

type ReadingFields = VisitBundle['purges'][number]['readings'][number]['fields'];

/** The measured fields that physics bounds. ORP and the depth to water may have either sign. */
export type BelievableField = Extract<
  keyof ReadingFields,
  | 'temperatureC'
  | 'temperatureF'
  | 'ph'
  | 'specificConductanceUsPerCm'
  | 'dissolvedOxygenMgPerL'
  | 'dissolvedOxygenPercent'
  | 'turbidityNtu'
  | 'turbidityFnu'
  | 'flowMlPerMin'
  | 'purgedMl'
>;

export interface Believable {
  readonly name: string;
  readonly least: number;
  readonly most?: number;
  readonly because: string;
}

function neverNegative(name: string): Believable {
  return { name, least: 0, because: 'it cannot be negative' };
}

const LIQUID = 'water is liquid only between freezing and boiling';
const PURE_OXYGEN = 'even pure oxygen cannot saturate water so far';

/**
 * What water at the surface can show. Below -2 °C even sea water is ice (it freezes near -1.9 °C); 28.4 °F is the
 * same. Air is 20.9 % oxygen, so that pure oxygen at one atmosphere saturates to 478 %; at 0 °C, where 14.6 mg/L is
 * saturation with air, that is 70 mg/L.
 */
export const BELIEVABLE: Readonly<Record<BelievableField, Believable>> = {
  temperatureC: { name: 'Temperature °C', least: -2, most: 100, because: LIQUID },
  temperatureF: { name: 'Temperature °F', least: 28.4, most: 212, because: LIQUID },
  ph: { name: 'pH', least: 0, most: 14, because: 'pH runs from 0 to 14' },
  specificConductanceUsPerCm: neverNegative('Specific conductance µS/cm'),
  dissolvedOxygenMgPerL: { name: 'Dissolved oxygen mg/L', least: 0, most: 70, because: PURE_OXYGEN },
  dissolvedOxygenPercent: { name: 'Dissolved oxygen %', least: 0, most: 500, because: PURE_OXYGEN },
  turbidityNtu: neverNegative('Turbidity NTU'),
  turbidityFnu: neverNegative('Turbidity FNU'),
  flowMlPerMin: neverNegative('Flow mL/min'),
  purgedMl: neverNegative('Purged volume mL'),
};
